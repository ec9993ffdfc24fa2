using LiveStems.Analysis.Delivery;
using LiveStems.Files.Writing;
using LiveStems.Tests.Signals;
using Xunit;

namespace LiveStems.Tests.Analysis.Delivery;

/// <summary>A made song: band and voice, independent noises through a one-pole low-pass, so that bass rules as in music.</summary>
public sealed class PhaseCheckTests : IDisposable
{
    private const int Rate = 48_000;
    private const int Frames = 3 * Rate;

    private readonly string folder = Directory.CreateTempSubdirectory("livestems-").FullName;
    private readonly float[] band = Dull(1, 0.2f);
    private readonly float[] voice = Dull(2, 0.06f);

    public void Dispose() => Directory.Delete(folder, recursive: true);

    [Fact]
    public void AlternatesThatLieAsTheMasterPass()
    {
        // Correlation of a part with the whole: the root of its share of the energy, 1/√(1 + 0.3²) and 0.3/√(1 + 0.3²).
        Assert.Equal(0.958, Check(band)!.Value, 0.02);
        Assert.Equal(0.287, Check(voice)!.Value, 0.02);
        Assert.Null(Check(new float[Frames]));
    }

    [Theory]
    [InlineData(1)]
    [InlineData(-2)]
    [InlineData(480)]
    public void AnAlternateThatIsShiftedIsRefused(int samples)
    {
        string message = Assert.Throws<DeliveryException>(() => Check(Shifted(band, samples))).Message;
        Assert.Contains($"{Math.Abs(samples)}.0 samples {(samples > 0 ? "behind" : "before")} the main version", message, StringComparison.Ordinal);
    }

    [Fact]
    public void AQuietVoiceThatIsShiftedFarOrTurnedOverIsRefused()
    {
        Assert.Contains("480.0 samples behind", Assert.Throws<DeliveryException>(() => Check(Shifted(voice, 480))).Message, StringComparison.Ordinal);
        Assert.Contains("turned over", Assert.Throws<DeliveryException>(() => Check([.. voice.Select(sample => -sample)])).Message, StringComparison.Ordinal);
    }

    [Fact]
    public void AnAlternateOfAnotherLengthIsRefused() =>
        Assert.Contains("frames and the main version", Assert.Throws<DeliveryException>(() => Check(band[..^1])).Message, StringComparison.Ordinal);

    private double? Check(float[] alternate)
    {
        string master = Written("master.wav", [.. band.Zip(voice, (one, other) => one + other)]);
        return PhaseCheck.Check(Written("alternate.wav", alternate), "alternate", master, TestContext.Current.CancellationToken);
    }

    private string Written(string name, float[] sound)
    {
        string path = Path.Combine(folder, name);
        using WavWriter writer = new(path, new WavFormat(Rate, 32, IsFloat: true));
        writer.Write(sound, sound);
        writer.Complete();
        return path;
    }

    private static float[] Shifted(float[] sound, int samples) =>
        [.. Enumerable.Range(0, sound.Length).Select(i => i - samples >= 0 && i - samples < sound.Length ? sound[i - samples] : 0)];

    private static float[] Dull(int seed, float level)
    {
        float[] sound = Noise.White(Frames, seed, level);
        for (int i = 1; i < sound.Length; i++)
        {
            sound[i] = 0.1f * sound[i] + 0.9f * sound[i - 1];
        }

        return sound;
    }
}
