using LiveStems.Albums.Model;
using LiveStems.View.Controls;
using LiveStems.View.Desk;

namespace LiveStems.View.Screens;

/// <summary>The chain of what is chosen: its processors in order, and the values of the one that is chosen.</summary>
internal sealed class ChainView : Control
{
    private const float PictureUnits = 84;
    private const float SmallestPictureUnits = 36;
    private const float ValuesUnits = 120;
    private const float LowUnits = 300;
    private const float BesideUnits = 560;
    private const float LowestUnits = 220;
    private const float BesideInLowestUnits = 380;
    private const float LinesShare = 0.44f;

    private readonly AlbumDesk desk;
    private readonly Stack head = Stack.Column(3);
    private readonly Stack lines = Stack.Column(2);
    private readonly Stack values = Stack.Column(2);
    private readonly Scroll scroll;
    private readonly Scroll linesScroll;
    private readonly ProcessorPictures pictures;
    private readonly List<ProcessorLine> shown = [];
    private readonly Dictionary<string, string> groups = [];
    private readonly Action addProcessor;
    private readonly Action addPreset;
    private readonly List<(Button Tab, ProcessorModel Of, string Group)> tabs = [];
    private TextEntry? reason;
    private (int Song, Engine.Live.TapPlace Chain)? builtChain;
    private (Engine.Live.TapPlace Place, string? Group)? builtValues;
    private float? dropY;
    private ProcessorLine? revealed;

    public ChainView(AlbumDesk desk, Action addProcessor, Action addPreset)
    {
        this.desk = desk;
        this.addProcessor = addProcessor;
        this.addPreset = addPreset;
        Add(head);
        linesScroll = Add(new Scroll(lines));
        pictures = Add(new ProcessorPictures(desk));
        scroll = Add(new Scroll(values));
    }

    public void Update(double seconds)
    {
        Build();
        shown.ForEach(line => line.Follow());
        FollowValues();
        RevealChosen();
        pictures.Update(seconds);
    }

    public override void Draw(Painter painter)
    {
        painter.Fill(Bounds, Tone.Panel, radius: 4);
        if (shown.Count == 0)
        {
            Box box = linesScroll.Bounds;
            float y = box.Y + 3;
            foreach (string line in TipBubble.Lines(painter.Fonts, "no processor yet: the sound goes through as it came", box.Width - 4))
            {
                painter.Text(line, new(box.X + 2, y, box.Width - 4, 16), Tone.Quiet);
                y += 16;
            }
        }
    }

    public override void DrawOver(Painter painter)
    {
        if (dropY is { } y)
        {
            painter.Line(Bounds.X + 8, y, Bounds.Right - 8, y, Tone.Focus, 2);
        }
    }

    // In a low window that is wide enough, the values stand beside the processors.
    protected override void ArrangeChildren(ITextRuler ruler)
    {
        Box inner = Bounds.Inset(8, 5);
        float y = inner.Y + head.Measure(ruler).Height + 4;
        head.Arrange(Box.Between(inner.X, inner.Y, inner.Right, y - 4), ruler);
        float wanted = Math.Max(22, lines.Measure(ruler).Height);
        if ((Bounds.Height < LowUnits && inner.Width >= BesideUnits) || (Bounds.Height < LowestUnits && inner.Width >= BesideInLowestUnits))
        {
            float width = MathF.Round(inner.Width * LinesShare);
            linesScroll.Arrange(Box.Between(inner.X, y, inner.X + width, inner.Bottom), ruler);
            ArrangeValues(Box.Between(inner.X + width + 8, y, inner.Right, inner.Bottom), ruler);
            return;
        }

        // However many processors there are, some of the values stay in sight.
        float height = Math.Min(wanted, Math.Max(22, inner.Bottom - y - ValuesUnits));
        linesScroll.Arrange(new(inner.X, y, inner.Width, height), ruler);
        ArrangeValues(Box.Between(inner.X, y + height + 5, inner.Right, inner.Bottom), ruler);
    }

    private void ArrangeValues(in Box box, ITextRuler ruler)
    {
        float height = pictures.IsVisible ? Math.Min(PictureUnits, box.Height - ValuesUnits) : 0;
        height = height < SmallestPictureUnits ? 0 : height;
        pictures.Arrange(new(box.X, box.Y, box.Width, height), ruler);
        scroll.Arrange(Box.Between(box.X, box.Y + (height > 0 ? height + 5 : 0), box.Right, box.Bottom), ruler);
    }

    // The processor that the keyboard comes to, or that is newly chosen, is brought into sight, once it has its place.
    private void RevealChosen()
    {
        ProcessorLine? wanted = shown.Find(line => line.HasFocus) ?? shown.Find(line => line.Processor.IsSelected);
        if (wanted != revealed && wanted is null or { Bounds.Height: > 0 })
        {
            revealed = wanted;
            linesScroll.Reveal(wanted?.Bounds ?? linesScroll.Bounds);
        }
    }

    // What is being dragged or typed into must stay: only what shows other things than before is made anew.
    private void Build()
    {
        (int, Engine.Live.TapPlace) chain = (desk.SongIndex, desk.Selection.Chain);
        if (builtChain != chain || !shown.Select(line => line.Processor).SequenceEqual(desk.Chain.Processors))
        {
            builtChain = chain;
            builtValues = null;
            BuildHead();
            BuildLines();
        }

        (Engine.Live.TapPlace, string?) wanted = (desk.Selection, desk.Chain.Selected is { } selected ? groups.GetValueOrDefault(selected.Id) : null);
        if (builtValues != wanted)
        {
            builtValues = wanted;
            BuildValues();
        }
    }

    private void BuildLines()
    {
        lines.Clear();
        shown.Clear();
        foreach (ProcessorModel processor in desk.Chain.Processors)
        {
            shown.Add(lines.Add(new ProcessorLine(desk, processor, OnDragged, OnDropped), Length.Of(26)));
        }

        Host?.MarkLayout();
    }

    private void BuildValues()
    {
        values.Clear();
        tabs.Clear();
        reason = null;
        if (desk.Chain.Selected is { } selected)
        {
            BuildValues(selected);
        }
        else if (desk.SelectedStem is { } parent && desk.Selection.Parallel >= 0)
        {
            AddValue(parent.Parallels[desk.Selection.Parallel].Blend);
            AddValue(parent.Parallels[desk.Selection.Parallel].Align);
        }
        else if (desk.SelectedStem is { } stem)
        {
            AddValue(stem.Gain);
            AddValue(stem.Pan);
            AddValue(stem.Delay);
            values.Add(new TextButton(() => $"polarity: {stem.Polarity switch { Polarity.Normal => "as delivered", Polarity.Inverted => "turned over", Polarity.LeftInverted => "left turned over", _ => "right turned over" }}", () => stem.NextPolarity()) { Side = Side.Left }, Length.Of(21));
        }

        Host?.MarkLayout();
    }

    private void BuildHead()
    {
        head.Clear();
        Stack row = head.Add(Stack.Row(5), Length.Of(22));
        row.Add(new LiveLabel(() => desk.Chain.Name, Tone.Text, Lettering.Strong), Length.Rest());
        row.Add(new Button("dry", () => desk.Chain.ToggleBypass()) { IsOn = () => desk.Chain.IsBypassed, OnTone = Tone.Reduction, IsFlat = true, Tip = "Passes the whole chain by." }, Length.Fit);
        row.Add(new Button("add", addProcessor) { Tip = "Adds a processor to the chain." }, Length.Fit);
        row.Add(new Button("preset", addPreset) { Tip = "Adds a chain made for a purpose." }, Length.Fit);
    }

    private void BuildValues(ProcessorModel selected)
    {
        Stack row = values.Add(Stack.Row(4), Length.Of(21));
        row.Add(new TextButton(() => selected.Scope switch { StereoScope.Mid => "mid", StereoScope.Side => "side", _ => "stereo" }, () => selected.SetScope((StereoScope)(((int)selected.Scope + 1) % 3))) { Tip = "The part of the sound it works on." }, Length.Of(50));
        row.Add(new ValueBox(new DeskValue(desk, selected.Mix, "mix")), Length.Rest());
        row.Add(new Button("remove", () => selected.Remove()) { IsFlat = true, Tip = "Takes the processor out of the chain." }, Length.Fit);
        reason = values.Add(new TextEntry("why: what it corrects") { Accepted = words => selected.SetReason(words), Tip = "Why it is there: stands in the chain and in the papers for the client. Enter keeps it." }, Length.Of(22));
        if (selected.ListensToKey)
        {
            values.Add(new TextButton(() => $"listens to: {selected.KeyStem ?? "its own sound"}", () => NextKey(selected)) { Side = Side.Left, Tip = "The stem that its detectors listen to." }, Length.Of(21));
        }

        if (selected.CanRunApart)
        {
            values.Add(new TextButton(() => selected.RunsApart ? "runs in its own process" : "runs inside the program", () => selected.ToggleOwnProcess()) { Side = Side.Left, Tip = "In a process of its own not even its crash stops the music; it plays a little later, compensated." }, Length.Of(21));
        }

        string[] names = [.. selected.Parameters.Select(GroupOf).Where(group => group.Length > 0).Distinct()];
        foreach (ValueField parameter in selected.Parameters.Where(each => GroupOf(each).Length == 0))
        {
            AddValue(parameter);
        }

        if (names.Length == 0)
        {
            return;
        }

        string chosen = groups.GetValueOrDefault(selected.Id, selected.Parameters.FirstOrDefault(each => each.Spec.Id.EndsWith(".on", StringComparison.Ordinal) && each.Value >= 0.5) is { } on ? GroupOf(on) : names[0]);
        Stack strip = Stack.Row(2);
        foreach (string name in names)
        {
            Button tab = strip.Add(
                new Button(name.Replace("band", string.Empty, StringComparison.Ordinal), () => ChooseGroup(selected, name))
                {
                    IsOn = () => chosen == name,
                    IsFlat = true,
                    IsSmall = true,
                    Tip = $"The values of {name.Replace("band", "band ", StringComparison.Ordinal)}.",
                },
                Length.Rest());
            tabs.Add((tab, selected, name));
        }

        values.Add(strip, Length.Of(20));
        foreach (ValueField parameter in selected.Parameters.Where(each => GroupOf(each) == chosen))
        {
            string plain = parameter.Name;
            int second = plain.IndexOf(' ', plain.IndexOf(' ', StringComparison.Ordinal) + 1);
            AddValue(parameter, second > 0 ? plain[(second + 1)..] : plain);
        }
    }

    private void ChooseGroup(ProcessorModel selected, string name)
    {
        groups[selected.Id] = name;
    }

    // What is on stands out among the groups; words that undo brought back are shown.
    private void FollowValues()
    {
        foreach ((Button tab, ProcessorModel of, string group) in tabs)
        {
            bool isFlat = of.Parameter($"{group}.on") is not { Value: >= 0.5 };
            if (tab.IsFlat != isFlat)
            {
                tab.IsFlat = isFlat;
                tab.Redraw();
            }
        }

        if (reason is { HasFocus: false } && desk.Chain.Selected is { } selected && reason.Text != selected.Reason)
        {
            reason.Start(selected.Reason);
        }
    }

    private void NextKey(ProcessorModel selected)
    {
        string?[] names = [null, .. desk.Song.Stems.Select(stem => stem.Name).Where(name => name != desk.SelectedStem?.Name)];
        selected.SetKey(names[(Array.IndexOf(names, selected.KeyStem) + 1) % names.Length]);
    }

    private void AddValue(ValueField source, string? name = null) => values.Add(new ValueBox(new DeskValue(desk, source, name)), Length.Of(21));

    private static string GroupOf(ValueField parameter)
    {
        int dot = parameter.Spec.Id.IndexOf('.', StringComparison.Ordinal);
        return dot < 0 ? string.Empty : parameter.Spec.Id[..dot];
    }

    private void OnDragged(ProcessorLine line, float y)
    {
        int place = PlaceAt(y);
        dropY = place < shown.Count ? shown[place].Bounds.Y - 1 : shown[^1].Bounds.Bottom + 1;
        Redraw();
    }

    private void OnDropped(ProcessorLine line)
    {
        if (dropY is { } y)
        {
            int place = PlaceAt(y + 1);
            dropY = null;
            line.Processor.MoveTo(place > line.Processor.Index ? place - 1 : place);
        }
    }

    private int PlaceAt(float y)
    {
        int place = shown.FindIndex(each => y < each.Bounds.CentreY);
        return place < 0 ? shown.Count : place;
    }
}
