using LiveStems.View.Controls;
using LiveStems.View.Desk;

namespace LiveStems.View.Screens.Drawers;

/// <summary>
/// The drawer beside the lanes: one page at a time, whatever it is about always in the same order: names of the pages, a
/// sentence, what can be done, how far it is, what was found, a field to type into.
/// </summary>
internal sealed class Drawer : Control
{
    private const float Padding = 8;
    private const float NameUnits = 21;
    private const float SentenceUnits = 13;
    private const float ButtonUnits = 22;
    private const float ProgressUnits = 18;
    private const float EntryUnits = 25;
    private const float LowUnits = 260;
    private const float LowButtonUnits = 19;
    private const float LowEntryUnits = 21;
    // Two lines, each with a line of detail.
    private const float ListUnits = 66;
    private const double LookSeconds = 0.15;

    private readonly AlbumDesk desk;
    private readonly Action<string?> tell;
    private readonly List<Button> names = [];
    private readonly List<TextButton> buttons = [];
    private readonly DrawerList list;
    private readonly Scroll scroll;
    private readonly TextEntry entry;
    private readonly Button cancel;
    private readonly DrawerValues values;
    private readonly Scroll valuesScroll;
    private float sentenceY;
    private object? state;
    private string words = string.Empty;
    private string progress = string.Empty;
    private string hint = string.Empty;
    private string? typedAbout;
    private List<string> sentence = [];
    private double sinceLook;

    public Drawer(AlbumDesk desk, IReadOnlyList<DrawerPage> pages, Action<string?> tell)
    {
        this.desk = desk;
        this.tell = tell;
        Pages = pages;
        Page = pages[0];
        foreach (DrawerPage page in pages)
        {
            names.Add(Add(new Button(page.Name, () => Open(page)) { IsOn = () => Page == page, IsFlat = true, IsSmall = true, Tip = $"{page.Purpose}. {page.Key}." }));
        }

        list = new DrawerList(line => Page.Choose(line), Tell);
        entry = new TextEntry(() => Page.Entry?.Hint() ?? string.Empty) { Accepted = Accept, Changed = Typed };
        cancel = new Button("cancel", () => Job?.Cancel()) { IsSmall = true, Tip = "Calls it off." };
        scroll = new Scroll(list);
        values = new DrawerValues(desk);
        valuesScroll = new Scroll(values);
        IsVisible = false;
    }

    public IReadOnlyList<DrawerPage> Pages { get; }

    public DrawerPage Page { get; private set; }

    /// <summary>Its pages with their keys, in a sentence.</summary>
    public string PagesWithKeys => $"{string.Join(", ", Pages.Select(page => $"{page.Name} ({page.Key})"))}.";

    /// <summary>The lines that are shown.</summary>
    public DrawerList List => list;

    /// <summary>Called when it opens, before it takes the keyboard: it may have to be put in place.</summary>
    public Action Opening { get; set; } = () => { };

    /// <summary>True where no other part of the window is in sight, and its pages are chosen beside theirs.</summary>
    public bool IsAlone { get; set; }

    private DeskJob? Job => Page.JobKind is { } kind ? desk.Jobs.Open(kind) : null;

    /// <summary>Opens a page; pressed again on the open one, it closes.</summary>
    public void Toggle(string id)
    {
        DrawerPage page = Pages.First(each => each.Id.Equals(id, StringComparison.OrdinalIgnoreCase));
        if (IsVisible && page == Page)
        {
            Close();
        }
        else
        {
            Open(page);
        }
    }

    public void Open(DrawerPage page)
    {
        Page.Closed();
        Page = page;
        IsVisible = true;
        page.Opened();
        Opening();
        state = null;
        Build();
        Update(LookSeconds);
        Host?.SetFocus(page.Entry is not null && page.Lines().Count == 0 ? entry : list);
    }

    public void Close()
    {
        Page.Closed();
        Host?.Forget(this);
        IsVisible = false;
    }

    /// <summary>Takes in what is new.</summary>
    public void Update(double seconds)
    {
        sinceLook += seconds;
        if (!IsVisible || sinceLook < LookSeconds)
        {
            return;
        }

        sinceLook = 0;
        object now = Page.State;
        if (!now.Equals(state))
        {
            bool isSame = state is not null;
            state = now;
            list.Show(Page.Lines(), isSame);
            Page.Moved(list.Chosen);
            values.Redraw();
        }

        if (Page.TakeWords() is { } wanted)
        {
            entry.Start(wanted);
            typedAbout = wanted.Length == 0 ? null : Page.About;
            Host?.SetFocus(entry);
        }

        string shownNow = $"{Page.Explanation}|{string.Join('|', Page.Buttons.Select(button => button.Words()))}|{Page.Entry is not null}|{Job is not null}";
        string hintNow = Page.Entry?.Hint() ?? string.Empty;
        string progressNow = ProgressText();
        if (shownNow != words)
        {
            words = shownNow;
            Build();
        }
        else if (progressNow != progress)
        {
            Redraw();
        }
        else if (hintNow != hint)
        {
            entry.Redraw();
        }

        progress = progressNow;
        hint = hintNow;
    }

    public override void Draw(Painter painter)
    {
        painter.Fill(Bounds, Tone.Panel, radius: 4);
        float y = sentenceY;
        foreach (string line in sentence)
        {
            painter.Text(line, new(Bounds.X + Padding + 1, y, Bounds.Width - 2 * Padding, SentenceUnits), Tone.Quiet, Lettering.Small);
            y += SentenceUnits;
        }

        if (cancel.Parent is not null && Job is { } job)
        {
            Box box = Box.Between(Bounds.X + Padding, cancel.Bounds.Y, cancel.Bounds.X - 6, cancel.Bounds.Bottom);
            painter.Fill(box, Tone.Raised, radius: 3);
            painter.Fill(box with { Width = box.Width * (float)job.Share }, Tone.Input, 0.35f, 3);
            painter.Text(ProgressText(), box.Inset(7, 0), Tone.Text, Lettering.Small);
        }
    }

    public override bool KeyDown(Key key, Modifiers modifiers)
    {
        if (key != Key.Escape || modifiers != Modifiers.None)
        {
            return false;
        }

        Close();
        return true;
    }

    // Two lines of the list come before the whole sentence, and before all values; both can be had by resting and scrolling.
    protected override void ArrangeChildren(ITextRuler ruler)
    {
        bool isLow = Bounds.Height < LowUnits;
        bool hasNames = !(isLow && IsAlone);
        names.ForEach(name => name.IsVisible = hasNames);
        buttons.ForEach(button => button.IsSmall = isLow);
        float inner = Bounds.Width - 2 * Padding;
        float space = isLow ? 2 : 4;
        float buttonUnits = isLow ? LowButtonUnits : ButtonUnits;
        list.WidthUnits = inner - 6;
        values.WidthUnits = inner - 6;
        bool hasEntry = entry.Parent is not null;
        bool hasProgress = cancel.Parent is not null;
        float entryUnits = isLow ? LowEntryUnits : EntryUnits;
        float foot = Bounds.Bottom - (hasEntry ? entryUnits + 2 * (space + 1) : space);
        float top = Bounds.Y + space + 1;
        sentenceY = hasNames ? Flow(names, ruler, top, NameUnits, 0) + space + 1 : top;

        float buttonsHeight = Flow(buttons, ruler, 0, buttonUnits, space, isPlaced: false);
        float room = foot - sentenceY - buttonsHeight - 2 * space - (hasProgress ? ProgressUnits + space : 0);
        List<string> whole = TipBubble.Lines(ruler, Page.Explanation, inner, Lettering.Small);
        int lines = Math.Clamp((int)((room - ListUnits - values.LeastUnits) / SentenceUnits), hasProgress ? 0 : 1, whole.Count);
        bool isCut = lines < whole.Count;
        sentence = isCut ? [.. whole.Take(lines - 1), .. lines > 0 ? [string.Join(' ', whole.Skip(lines - 1))] : Array.Empty<string>()] : whole;
        Tip = isCut ? Page.Explanation : string.Empty;
        room -= sentence.Count * SentenceUnits;

        float y = Flow(buttons, ruler, sentenceY + sentence.Count * SentenceUnits + space, buttonUnits, space) + space;
        if (hasProgress)
        {
            cancel.Arrange(new(Bounds.Right - Padding - 50, y, 50, ProgressUnits), ruler);
            y += ProgressUnits + space;
        }

        if (hasEntry)
        {
            entry.Arrange(new(Bounds.X + Padding, foot + space + 1, inner, entryUnits), ruler);
        }

        if (valuesScroll.Parent is not null)
        {
            float height = Math.Clamp(room - ListUnits, values.LeastUnits, values.HeightUnits);
            valuesScroll.Arrange(new(Bounds.X + Padding, foot - height, inner, height), ruler);
            foot -= height;
        }

        scroll.Arrange(Box.Between(Bounds.X + Padding - 4, y, Bounds.Right - Padding + 4, Math.Max(y, foot)), ruler);
    }

    // In as many rows as they need; returns where they end.
    private float Flow<T>(List<T> row, ITextRuler ruler, float y, float height, float gap, bool isPlaced = true)
        where T : Control
    {
        float x = Bounds.X + Padding;
        foreach (T each in row)
        {
            float width = each.Measure(ruler).Width;
            if (x + width > Bounds.Right - Padding && x > Bounds.X + Padding)
            {
                x = Bounds.X + Padding;
                y += height + 2;
            }

            if (isPlaced)
            {
                each.Arrange(new(x, y, width, height), ruler);
            }

            x += width + gap;
        }

        return row.Count == 0 ? y : y + height;
    }

    private void Build()
    {
        IReadOnlyList<DrawerButton> wanted = Page.Buttons;
        if (buttons.Count != wanted.Count || shownPage != Page || isRunningShown != IsRunningShown())
        {
            Control? focus = Host?.Focus;
            foreach (TextButton button in buttons)
            {
                Remove(button);
            }

            buttons.Clear();
            for (int i = 0; i < wanted.Count; i++)
            {
                int index = i;
                buttons.Add(Add(new TextButton(() => index < Page.Buttons.Count ? Page.Buttons[index].Words() : string.Empty, () => Press(index)) { IsOn = () => index < Page.Buttons.Count && Page.Buttons[index].IsOn?.Invoke() == true, Tip = wanted[i].Tip }));
            }

            Put(cancel, Job is not null);
            Put(scroll, true);
            values.Show(Page.Values, () => Page.ValuesName);
            Put(valuesScroll, Page.Values.Count > 0);
            Put(entry, Page.Entry is not null);
            BringLast(scroll);
            BringLast(valuesScroll);
            BringLast(entry);
            if (shownPage != Page)
            {
                entry.Start(string.Empty);
                typedAbout = null;
            }

            shownPage = Page;
            isRunningShown = IsRunningShown();
            if (focus is not null && focus != Host?.Focus && focus.IsInside(this))
            {
                Host?.SetFocus(focus);
            }
        }

        Host?.MarkLayout();
    }

    private DrawerPage? shownPage;
    private bool isRunningShown;

    private bool IsRunningShown() => Job is not null;

    private void Put(Control control, bool isThere)
    {
        if (isThere && control.Parent is null)
        {
            Add(control);
        }
        else if (!isThere && control.Parent is not null)
        {
            Remove(control);
        }
    }

    private void Press(int index)
    {
        if (index < Page.Buttons.Count)
        {
            Tell(Page.Buttons[index].Press());
        }
    }

    private void Accept(string text)
    {
        if (text.Trim().Length == 0 || Page.Entry is not { } wanted)
        {
            return;
        }

        string about = Page.About;
        if (typedAbout is { } meant && meant != about)
        {
            typedAbout = about;
            Tell($"that was typed for {meant}: Enter again takes it for {about}");
            return;
        }

        string? fault = wanted.Accept(text);
        if (fault is null)
        {
            entry.Start(string.Empty);
            typedAbout = null;
        }

        Tell(fault);
    }

    private void Typed(string text) => typedAbout = text.Length == 0 ? null : typedAbout ?? Page.About;

    private void Tell(string? fault)
    {
        tell(fault);
        Update(LookSeconds);
    }

    private string ProgressText() => Job is { } job
        ? $"{job.Words} {job.Share * 100:0} %{(job.SecondsLeft is { } left ? $", {TimeText.Of(left)} left" : string.Empty)}"
        : string.Empty;
}
