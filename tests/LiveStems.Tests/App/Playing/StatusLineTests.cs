using LiveStems.App.Playing;
using LiveStems.App.Terminal;
using LiveStems.Engine.Devices;
using LiveStems.Engine.Live;
using LiveStems.Engine.Planning;
using Xunit;

namespace LiveStems.Tests.App.Playing;

public sealed class StatusLineTests : IDisposable
{
    private readonly PlayedAlbum played = new();

    public void Dispose() => played.Dispose();

    [Theory]
    [InlineData(60, "playing 1:23.4  M −14.2 S −15.1  peak −1.2  load 12 %  Bass")]
    [InlineData(80, "playing 1:23.4/3:45.6  M −14.2 S −15.1 LUFS  L −1.2 R −2.5 dBFS  load 12 %  Bass")]
    [InlineData(120, "playing 1:23.4/3:45.6  M −14.2 S −15.1 LUFS  L −1.2 R −2.5 dBFS  load 12 % worst 90 %  Bass  Low Tide")]
    public void LevelsLoudnessAndPresentLoadAreThereInEveryWidth(int columns, string expected) =>
        Assert.Equal(expected, StatusLine.From(State(), [], played.Controls, null, columns));

    [Theory]
    [InlineData(60)]
    [InlineData(80)]
    [InlineData(120)]
    public void WarningsComeBeforeNamesAndNothingIsCutOffBeforeThem(int columns)
    {
        foreach (char key in "dfhyA")
        {
            played.Press(key);
        }

        PlayerState state = State() with { LateStems = ["Lead voice of the second verse"], MissedFrames = 480, HasFollowing = true, Song = new string('x', 80) };
        state.Device.AddUnderrun();
        string line = StatusLine.From(state, [], played.Controls, null, columns);
        Assert.InRange(TextColumns.Of(line), 1, columns);
        Assert.Contains("late", line, StringComparison.Ordinal);
        Assert.Contains("1 underrun", line, StringComparison.Ordinal);
        Assert.Contains("480", line, StringComparison.Ordinal);
        Assert.Contains("M −14.2", line, StringComparison.Ordinal);
        if (columns >= 80)
        {
            Assert.Contains("peak −1.2", line, StringComparison.Ordinal);
            Assert.Contains("load 12 %", line, StringComparison.Ordinal);
        }
    }

    [Fact]
    public void NoWidthIsOverstepped()
    {
        PlayerState state = State() with { Song = "岸壁のワルツ 岸壁のワルツ 岸壁のワルツ", LoadLevel = LoadLevel.Faded };
        foreach (char key in "dfhyt]")
        {
            played.Press(key);
        }

        for (int columns = 20; columns <= 250; columns++)
        {
            Assert.InRange(TextColumns.Of(StatusLine.From(state, [], played.Controls, null, columns)), 1, columns);
        }

        Assert.Contains("OVERLOAD: faded out, tries again", StatusLine.From(state, [], played.Controls, null, 250), StringComparison.Ordinal);
        Assert.Contains("meters off", StatusLine.From(state, [], played.Controls, null, 250), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(80, "safety −4.9")]
    [InlineData(160, "safety limiter −4.9 dB")]
    public void TheSafetyLimiterIsNotAtWorkUnseen(int columns, string expected)
    {
        PlayerState state = State() with { SafetyReductionDb = 4.94, NonFiniteSamples = 12 };
        string line = StatusLine.From(state, [], played.Controls, null, columns);
        Assert.Contains(expected, line, StringComparison.Ordinal);
        Assert.Contains("12 ", line, StringComparison.Ordinal);
        Assert.Contains("not finite", line, StringComparison.Ordinal);
        Assert.DoesNotContain("safety", StatusLine.From(State() with { SafetyReductionDb = 0.04 }, [], played.Controls, null, 250), StringComparison.Ordinal);
    }

    [Fact]
    public void LoadIsThatOfNowAndNotOfAllTheTimeSinceTheStart()
    {
        PlayerState state = State();
        for (int call = 0; call < 2000; call++)
        {
            state.Device.AddCall((long)(0.5 * 64 / 48_000 * System.Diagnostics.Stopwatch.Frequency), 64, 48_000);
        }

        Assert.Contains("load 50 %", StatusLine.From(state, [], played.Controls, null, 120), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("Kelp", 10, "Kelp")]
    [InlineData("Lead voice", 6, "Lead…")]
    [InlineData("岸壁のワルツ", 6, "岸壁…")]
    [InlineData("Kelp", 1, "…")]
    [InlineData("Kelp", 0, "")]
    public void NamesAreCutByColumns(string name, int columns, string expected) => Assert.Equal(expected, TextColumns.Cut(name, columns));

    // 10,000 calls at 12 % of the time, one at 90 % long ago.
    private static PlayerState State()
    {
        AudioStatistics device = new();
        double ticks = 64.0 / 48_000 * System.Diagnostics.Stopwatch.Frequency;
        device.AddCall((long)(0.9 * ticks), 64, 48_000);
        for (int call = 0; call < 10_000; call++)
        {
            device.AddCall((long)(0.12 * ticks), 64, 48_000);
        }

        return new PlayerState("Low Tide", true, 83.4, 225.6, -14.2, -15.1, -1.2, -2.5, 0, device);
    }
}
