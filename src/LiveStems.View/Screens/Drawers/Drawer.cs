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
    private object? state;
    private string words = string.Empty;
    private string progress = string.Empty;
    private string hint = string.Empty;
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
        entry = new TextEntry(() => Page.Entry?.Hint() ?? string.Empty) { Accepted = Accept };
        cancel = new Button("cancel", () => Job?.Cancel()) { IsSmall = true, Tip = "Calls it off." };
        scroll = new Scroll(list);
        values = new DrawerValues(desk);
        IsVisible = false;
    }

    public IReadOnlyList<DrawerPage> Pages { get; }

    public DrawerPage Page { get; private set; }

    /// <summary>The lines that are shown.</summary>
    public DrawerList List => list;

    /// <summary>Called when it opens, before it takes the keyboard: it may have to be put in place.</summary>
    public Action Opening { get; set; } = () => { };

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
        float y = names[^1].Bounds.Bottom + 5;
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

    protected override void ArrangeChildren(ITextRuler ruler)
    {
        float inner = Bounds.Width - 2 * Padding;
        float y = Flow(names, ruler, Bounds.Y + 5, NameUnits, 0);
        sentence = TipBubble.Lines(ruler, Page.Explanation, inner, Lettering.Small);
        y += 5 + sentence.Count * SentenceUnits + 4;
        y = Flow(buttons, ruler, y, ButtonUnits, 4) + 4;
        if (cancel.Parent is not null)
        {
            cancel.Arrange(new(Bounds.Right - Padding - 50, y, 50, ProgressUnits), ruler);
            y += ProgressUnits + 4;
        }

        bool hasEntry = entry.Parent is not null;
        float foot = Bounds.Bottom - (hasEntry ? EntryUnits + 2 * 5 : 4);
        list.WidthUnits = inner - 6;
        float height = values.HeightIn(inner);
        if (values.Parent is not null)
        {
            values.Arrange(new(Bounds.X + Padding, foot - height, inner, height), ruler);
            foot -= height;
        }

        scroll.Arrange(Box.Between(Bounds.X + Padding - 4, y, Bounds.Right - Padding + 4, Math.Max(y, foot)), ruler);
        if (hasEntry)
        {
            entry.Arrange(new(Bounds.X + Padding, foot + 5, inner, EntryUnits), ruler);
        }
    }

    // In as many rows as they need.
    private float Flow<T>(List<T> row, ITextRuler ruler, float y, float height, float gap)
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

            each.Arrange(new(x, y, width, height), ruler);
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
            Remove(scroll);
            Add(scroll);
            values.Show(Page.Values, () => Page.ValuesName);
            Put(values, false);
            Put(values, Page.Values.Count > 0);
            Put(entry, false);
            Put(entry, Page.Entry is not null);
            if (shownPage != Page)
            {
                entry.Start(string.Empty);
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

        string? fault = wanted.Accept(text);
        if (fault is null)
        {
            entry.Start(string.Empty);
        }

        Tell(fault);
    }

    private void Tell(string? fault)
    {
        tell(fault);
        Update(LookSeconds);
    }

    private string ProgressText() => Job is { } job
        ? $"{job.Words} {job.Share * 100:0} %{(job.SecondsLeft is { } left ? $", {TimeText.Of(left)} left" : string.Empty)}"
        : string.Empty;
}
