using LiveStems.Tests.View.Controls;
using LiveStems.Tests.View.Desk;
using LiveStems.View.Controls;
using LiveStems.View.Desk;
using LiveStems.View.Screens;
using Xunit;

namespace LiveStems.Tests.View.Screens;

public sealed class BracketTests : IDisposable
{
    // Heights are set to a tenth of a decibel, of which the pointer may be half off.
    private const double HeightDb = 0.06;

    private readonly DeskAlbum album = new();
    private readonly AlbumDesk desk;
    private readonly MainScreen screen;
    private readonly ControlHost host;
    private double seconds;

    public BracketTests()
    {
        desk = album.Open();
        screen = new MainScreen(desk, WindowState.AtFirst);
        host = new ControlHost(screen.Root, screen, new FixedRuler(), () => seconds);
        screen.Attach(host);
        host.SetSize(1600, 1000, 1);
        desk.Select(desk.Stems[0].Place);
        Frame();
    }

    private SpectrumControl Plot => screen.Spectrum.Spectrum;

    private ProcessorModel Equaliser => desk.Chain.Processors.First(processor => processor.Slot.Processor == "equaliser");

    public void Dispose()
    {
        desk.Dispose();
        album.Dispose();
    }

    // The top stands where the hand lets it go: a tilt's at half its gain, that of a band that moves at the end of its range.
    [Theory]
    [InlineData("bell", 3, 0, 6, 6)]
    [InlineData("low-shelf", -3, 0, 4, 4)]
    [InlineData("high-shelf", 3, 0, -5, -5)]
    [InlineData("tilt", 4, 0, 3, 6)]
    [InlineData("bell", 3, -6, -5, -8)]
    [InlineData("low-shelf", -4, 6, 5, 9)]
    [InlineData("high-shelf", 2, 4, 8, 6)]
    [InlineData("tilt", 4, -6, -4, -12)]
    public void TheTopOfABandFollowsTheHand(string shape, double gainDb, double rangeDb, double topDb, double expected)
    {
        bool moves = rangeDb != 0;
        CorrectionBracket bracket = Band(shape, gainDb, rangeDb);
        Drag(bracket, bracket.TopDb, topDb);
        Assert.Equal(topDb, Single().TopDb, HeightDb);
        Assert.Equal(expected, Value(moves ? "rangeDb" : "gainDb"), 0.05 + 1e-9);
        Assert.Equal(moves ? gainDb : expected, Value("gainDb"), 0.05 + 1e-9);
        Assert.Equal(moves ? (shape == "tilt" ? gainDb / 2 : gainDb) : 0, Single().FootDb, 1e-9);
        Assert.NotNull(desk.Undo());
        Assert.Equal(bracket.TopDb, Single().TopDb, 1e-9);
    }

    // Passes and notch do not move with the sound, and have no height to be taken by: the middle goes to another frequency.
    [Theory]
    [InlineData("low-pass", -18)]
    [InlineData("high-pass", -18)]
    [InlineData("notch", -24)]
    public void ABandWithoutAGainIsMovedOverTheFrequencies(string shape, double topDb)
    {
        CorrectionBracket bracket = Band(shape, 3, -6);
        Assert.Equal((topDb, 0, null, null), (bracket.TopDb, bracket.FootDb, bracket.ActionDb, bracket.Height));
        (float x, float y) = (Middle(bracket), Y(topDb / 2));
        Hold(x, y);
        Move(x + 40, y);
        Release();
        Assert.True(Value("frequencyHz") > 1000);
    }

    [Theory]
    [InlineData("de-esser", "rangeDb", -4, 4)]
    [InlineData("resonance-suppressor", "deepestCutDb", -7, 7)]
    public void TheTopOfAnotherProcessorFollowsTheHand(string processor, string parameter, double topDb, double expected)
    {
        Assert.Null(desk.Chain.Add(processor));
        Frame();
        ProcessorModel added = desk.Chain.Selected!;
        CorrectionBracket bracket = CorrectionBracket.Of(added).Single();
        Drag(bracket, bracket.TopDb, topDb);
        Assert.Equal(topDb, CorrectionBracket.Of(added).Single().TopDb, HeightDb);
        Assert.Equal(expected, Math.Abs(added.Parameter(parameter)!.Value), 0.05 + 1e-9);
    }

    // A sine 26 dB above the threshold uses up the whole range at a ratio of 100; the bracket goes from the band's own gain to
    // there, up as well as down.
    [Theory]
    [InlineData(3, -6)]
    [InlineData(-2, 6)]
    public void ABandShowsItsRangeAndWhatItDoesNow(double gainDb, double rangeDb)
    {
        CorrectionBracket bracket = Band("bell", gainDb, rangeDb);
        Assert.Equal((gainDb, gainDb + rangeDb, rangeDb > 0), (bracket.FootDb, bracket.TopDb, bracket.IsUpward));
        Assert.Equal(0, bracket.ActionDb!(), 1e-6);
        int tone = SpectrumModel.PointOf(110);
        desk.Transport.SetLoop(0, 1.5);
        desk.Transport.Play();
        Assert.True(SpinWait.SpinUntil(
            () =>
            {
                album.Run(desk, 0.1);
                Frame();
                Thread.Sleep(2);
                return Math.Abs(bracket.ActionDb() - rangeDb) < 0.5 && Math.Abs(desk.Spectrum.ReductionDb[tone] - rangeDb) < 1;
            },
            TimeSpan.FromSeconds(30)));
        Assert.Null(Equaliser.ToggleBypass());
        Assert.Equal(0, bracket.ActionDb());
    }

    private CorrectionBracket Band(string shape, double gainDb, double rangeDb)
    {
        double choice = Equaliser.Parameter("band2.shape")!.Choices.ToList().IndexOf(shape);
        double frequencyHz = shape == "bell" ? 110 : 1000;
        Assert.Null(Equaliser.SetTogether(
        [
            new("band1.on", 0),
            new("band2.on", 1),
            new("band2.shape", choice),
            new("band2.frequencyHz", frequencyHz),
            new("band2.gainDb", gainDb),
            new("band2.q", 1),
            new("band2.dynamic", rangeDb != 0 ? 1 : 0),
            new("band2.rangeDb", rangeDb),
            new("band2.thresholdDb", -40),
            new("band2.ratio", 100),
        ]));
        Frame();
        return Single();
    }

    private CorrectionBracket Single() => CorrectionBracket.Of(Equaliser).Single();

    private double Value(string parameter) => Equaliser.Parameter($"band2.{parameter}")!.Value;

    private float Middle(CorrectionBracket bracket) => (Plot.X(bracket.LowerHz) + Plot.X(bracket.UpperHz)) / 2;

    private float Y(double decibels) => Plot.Bounds.Y + (float)(CorrectionBrackets.ZeroShare - decibels * CorrectionBrackets.ShareOfDb) * Plot.Bounds.Height;

    private void Drag(CorrectionBracket bracket, double fromDb, double toDb)
    {
        float x = Middle(bracket);
        Hold(x, Y(fromDb));
        Move(x, Y((fromDb + toDb) / 2));
        Move(x, Y(toDb));
        Release();
    }

    private void Hold(float x, float y)
    {
        Move(x, y);
        host.ButtonPressed(PointerButton.Left, Modifiers.None);
    }

    private void Release()
    {
        host.ButtonReleased(PointerButton.Left, Modifiers.None);
        Frame();
    }

    private void Move(float x, float y)
    {
        host.PointerMoved(x * host.Scale, y * host.Scale);
        Frame();
    }

    private void Frame()
    {
        seconds += 0.02;
        screen.Update(0.02);
        host.Layout();
    }
}
