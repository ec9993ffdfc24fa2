using System.Collections.Immutable;
using LiveStems.Albums.Model;
using LiveStems.Analysis.Comparing;
using LiveStems.Conformance.Loudness;
using LiveStems.Engine.Comparing;
using LiveStems.Files.Reading;
using LiveStems.Files.Writing;
using LiveStems.Processing.Catalogue;
using Xunit;

namespace LiveStems.Conformance.Comparing;

/// <summary>Both sides of a comparison, as they are written, beside libebur128; chances of guessing beside scipy.</summary>
public sealed class FairComparisonTests : IDisposable
{
    private const int SampleRate = 48_000;

    private readonly string folder = Directory.CreateTempSubdirectory("livestems-fair-").FullName;

    public static TheoryData<string> Programmes => [.. ReferenceProgrammes.Names];

    public void Dispose() => Directory.Delete(folder, recursive: true);

    [Theory]
    [MemberData(nameof(Programmes))]
    public void BothSidesAreEquallyLoudToLibEbur128(string programme)
    {
        (float[] left, float[] right) = ReferenceProgrammes.Make(programme, SampleRate);
        using (WavWriter writer = new(Path.Combine(folder, "a.wav"), new WavFormat(SampleRate, 32, IsFloat: true)))
        {
            writer.Write(left, right);
            writer.Complete();
        }

        ImmutableSortedDictionary<string, double> settings = ImmutableSortedDictionary<string, double>.Empty.Add("thresholdDb", -30).Add("ratio", 4);
        ChainSlot compressor = new("compressor", "compressor", 1, false, 100, StereoScope.Stereo, null, settings, string.Empty);
        Stem stem = new("a", "a.wav", string.Empty, StemRole.Other, Placement.AsDelivered, new Chain(false, [compressor]), [], []);
        Song song = new("Test", null, null, null, [stem], Chain.Empty, []);
        ComparisonReport report = ComparisonMeasurement.Measure(
            new Comparison(new ChainScope(new ChainPlace("a")), false), song, folder, BuiltInProcessors.Catalogue, 0, null, Path.Combine(folder, "out"), null, CancellationToken.None);
        double inSide = LufsOf("in.wav");
        double outSide = LufsOf("out.wav");

        // Asked for: 0.1 LU on steady material and 0.3 LU on music. The meters agree within 0.02 LU each (see the agreement of
        // the meters themselves), so both sides within 0.04.
        Assert.Equal(inSide, outSide, 0.04);
        Assert.Equal(report.In.IntegratedLufs + report.Fair.InDb, inSide, 0.02);
    }

    [Theory]
    [InlineData(9, 10)]
    [InlineData(13, 16)]
    [InlineData(57, 100)]
    public void ChanceOfGuessingIsThatOfScipy(int hits, int tries)
    {
        double[] theirs = Scipy.Numbers($"import scipy.stats\nprint(repr(float(scipy.stats.binom.sf({hits - 1}, {tries}, 0.5))))");
        Assert.Equal(theirs[0], Binomial.AtLeast(hits, tries), 1e-12);
    }

    private double LufsOf(string file)
    {
        using IAudioReader reader = AudioFile.Open(Path.Combine(folder, "out", file));
        using LibEbur128 meter = new(SampleRate);
        float[] left = new float[4800];
        float[] right = new float[4800];
        int frames;
        while ((frames = reader.Read(left, right)) > 0)
        {
            meter.Add(left.AsSpan(0, frames), right.AsSpan(0, frames));
        }

        return meter.IntegratedLufs;
    }
}
