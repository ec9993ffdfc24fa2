using LiveStems.View.Controls;
using LiveStems.View.Screens.Drawers;

namespace LiveStems.View.Screens;

/// <summary>How much of the window's parts is in sight at once.</summary>
internal enum AreaShape
{
    /// <summary>Everything; an open drawer stands above the chain.</summary>
    Wide,

    /// <summary>Everything but the lanes while a drawer is open.</summary>
    Medium,

    /// <summary>One part at a time: small windows, large scales.</summary>
    Single,
}

/// <summary>
/// The parts of the window between header and compare strip: lanes, spectrum, chain, meters and the drawer, placed by how
/// much room there is.
/// </summary>
internal sealed class MainArea : Control
{
    private const float MeterUnits = 196;
    private const float ChainUnits = 330;
    private const float DrawerUnits = 404;
    private const float WideUnits = 1140;
    private const float MediumUnits = 900;
    private const float MediumHeight = 380;
    private const float TabUnits = 22;
    private const float LowTabUnits = 20;
    private const float LowUnits = 240;
    private const float NarrowUnits = 480;
    private const float Gap = 6;

    private readonly Control lanes;
    private readonly Control chain;
    private readonly Control spectrum;
    private readonly Control meters;
    private readonly Drawer drawer;
    private readonly Stack column = Stack.Column(Gap);
    private readonly Stack tabs = Stack.Row(4);
    private readonly TextButton pages;
    private readonly Holder top = new();
    private readonly Holder lower = new();
    private readonly Holder beside = new();
    private readonly Holder drawerPlace = new();
    private readonly Holder chainPlace = new();
    private readonly Holder single = new();
    private readonly Holder meterPlace = new();
    private readonly (string Name, Control Part)[] parts;
    private readonly Splitter left;
    private readonly Splitter right;
    private (string Name, Control Part) part;
    private (AreaShape Shape, bool IsOpen, Control Part)? shown;
    private float otherShare = 0.6f;
    private bool wasInPlace;

    public MainArea(Control lanes, Control spectrum, Control chain, Control meters, Drawer drawer)
    {
        this.lanes = lanes;
        this.spectrum = spectrum;
        this.chain = chain;
        this.meters = meters;
        this.drawer = drawer;
        parts = [("stems", lanes), ("spectrum", spectrum), ("chain", chain), ("meters", meters)];
        part = parts[0];
        Add(column);
        column.Add(tabs, Length.Of(TabUnits));
        foreach ((string name, Control each) in parts)
        {
            tabs.Add(new Button(name, () => Show(name, each)) { IsOn = () => !drawer.IsVisible && part.Part == each, IsFlat = true, Tip = "This window is small, or everything is large: one part at a time. F4 goes on to the next." }, Length.Fit);
        }

        pages = tabs.Add(
            new TextButton(() => drawer.IsVisible ? $"{drawer.Page.Name} …" : "drawers …", () => Host?.Open(DrawerChooser.Create(drawer))) { IsOn = () => drawer.IsVisible, Tip = drawer.PagesWithKeys },
            Length.Fit);
        Stack bottom = Stack.Row(Gap);
        bottom.Add(lower, Length.Rest());
        bottom.Add(beside, Length.Of(ChainUnits));
        left = new Splitter(false, top, bottom, 0.46f);
        right = new Splitter(false, drawerPlace, chainPlace, 0.6f);
        Stack row = column.Add(Stack.Row(Gap), Length.Rest());
        row.Add(left, Length.Rest());
        row.Add(right, Length.Of(DrawerUnits));
        row.Add(single, Length.Rest());
        row.Add(meterPlace, Length.Of(MeterUnits));
        drawerPlace.Take(drawer);
        drawer.Opening = () => Fit();
        Fit();
    }

    /// <summary>How much is in sight.</summary>
    public AreaShape Shape { get; private set; }

    /// <summary>The shape that fits a width and a height in logical units.</summary>
    public static AreaShape ShapeFor(float width, float height) =>
        width < MediumUnits || height < MediumHeight ? AreaShape.Single : width < WideUnits ? AreaShape.Medium : AreaShape.Wide;

    /// <summary>Places the parts anew where the room or the drawer is another; once a picture.</summary>
    public void Fit()
    {
        if (Bounds.Width > 0)
        {
            Shape = ShapeFor(Bounds.Width, Bounds.Height);
        }

        (AreaShape, bool, Control) now = (Shape, drawer.IsVisible, part.Part);
        if (now == shown)
        {
            return;
        }

        shown = now;
        Place(drawer.IsVisible);
    }

    /// <summary>In a small window, shows the next part.</summary>
    public void ShowNext()
    {
        int next = drawer.IsVisible ? 0 : (Array.IndexOf(parts, part) + 1) % parts.Length;
        Show(parts[next].Name, parts[next].Part);
    }

    protected override void ArrangeChildren(ITextRuler ruler)
    {
        Fit();
        bool isLow = Bounds.Height < LowUnits;
        column.SetSpace(isLow ? 3 : Gap, 0);
        column.SetLength(0, Length.Of(isLow ? LowTabUnits : TabUnits));
        pages.IsSmall = Bounds.Width < NarrowUnits;
        foreach (Button tab in tabs.Children.OfType<Button>())
        {
            tab.IsSmall = pages.IsSmall;
        }

        column.Arrange(Bounds, ruler);
    }

    private void Show(string name, Control chosen)
    {
        part = (name, chosen);
        if (drawer.IsVisible && Shape == AreaShape.Single)
        {
            drawer.Close();
        }

        Fit();
    }

    private void Place(bool isOpen)
    {
        bool isSingle = Shape == AreaShape.Single;
        bool isBeside = Shape == AreaShape.Wide && isOpen;
        tabs.IsVisible = isSingle;
        single.IsVisible = isSingle;
        left.IsVisible = !isSingle;
        meterPlace.IsVisible = !isSingle;
        right.IsVisible = isBeside;
        beside.IsVisible = !isBeside;
        drawer.IsAlone = isSingle;
        if (isSingle)
        {
            single.Take(isOpen ? drawer : part.Part);
        }
        else
        {
            meterPlace.Take(meters);
            lower.Take(spectrum);
            (isBeside ? chainPlace : beside).Take(chain);
            top.Take(Shape == AreaShape.Medium && isOpen ? drawer : lanes);
        }

        // A closed drawer waits where it can be opened from.
        if (isBeside || !isOpen)
        {
            drawerPlace.Take(drawer);
        }

        // A drawer in place of the lanes gets more room than they; where a person has put the edge is kept for both.
        bool isInPlace = Shape == AreaShape.Medium && isOpen;
        if (isInPlace != wasInPlace)
        {
            wasInPlace = isInPlace;
            float share = left.Share;
            left.SetShare(otherShare);
            otherShare = share;
        }

        Host?.MarkLayout();
    }
}
