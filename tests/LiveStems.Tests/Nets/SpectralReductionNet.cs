using LiveStems.Dsp;
using LiveStems.Processing.Catalogue;
using LiveStems.Processing.Contract;
using LiveStems.Tests.Signals;
using Xunit;

namespace LiveStems.Tests.Nets;

/// <summary>What processors show of their gain over frequency.</summary>
public class SpectralReductionNet
{
    private const int SampleRate = 48_000;

    public static TheoryData<string> Spectral() =>
        [.. ProcessorUnderTest.Ids().Select(row => row.Data).Where(id => BuiltInProcessors.Catalogue.Create(id) is ISpectralReduction)];

    [Fact]
    public void ProcessorsWhoseGainDependsOnFrequencyShowIt() =>
        Assert.Equal(["de-esser", "equaliser", "resonance-suppressor"], Spectral().Select(row => row.Data));

    [Theory]
    [MemberData(nameof(Spectral))]
    public void CurveHasAFrequencyForEveryPointAndIsFlatFromReset(string id)
    {
        Processor processor = ActingSettings.Prepared(id, 44_100);
        ISpectralReduction shown = (ISpectralReduction)processor;
        float[] frequencies = shown.ReductionFrequenciesHz.ToArray();
        Assert.Equal(frequencies.Length, shown.LatestReductionDb().Length);
        Assert.True(frequencies.Zip(frequencies.Skip(1), (a, b) => b > a).All(rises => rises));
        Assert.True(frequencies[^1] is >= 19_000 and <= 22_050);
        Assert.True(shown.LatestReductionDb().IndexOfAnyExcept(0f) < 0);
    }

    // A tone that the processor takes down, at 5 kHz: the curve there is the reduction of the whole, what is measured of the
    // tone, and an octave and a half below nothing or less.
    [Theory]
    [InlineData("de-esser", 0.3)]
    [InlineData("equaliser", 0.3)]
    [InlineData("resonance-suppressor", 2.0)]
    public void CurveIsWhatHappensToTheSound(string id, double toleranceDb)
    {
        Processor processor = BuiltInProcessors.Catalogue.Create(id)!;
        foreach ((string parameter, double value) in new[]
        {
            ("frequencyHz", 2000.0), ("thresholdDb", -30), ("band1.shape", 0), ("band1.frequencyHz", 5000), ("band1.dynamic", 1), ("band1.ratio", 50), ("band1.thresholdDb", -40),
        })
        {
            int index = processor.Description.IndexOf(parameter);
            if (index >= 0)
            {
                processor.SetParameter(index, value);
            }
        }

        processor.Prepare(new ProcessingFormat(SampleRate, 8192));
        float[] noise = Noise.White(SampleRate, 3, 1e-3f);
        float[] left = [.. noise.Select((x, n) => (float)(x + 0.1 * Math.Sin(2 * Math.PI * 5000 * n / SampleRate)))];
        float[] right = [.. left];
        ActingSettings.Run(processor, left, right);
        ISpectralReduction shown = (ISpectralReduction)processor;
        double heard = Processing.Equaliser.EqualiserSetup.LevelDb(left.AsSpan(40_000), 5000) - Decibels.FromAmplitude(0.1);
        Assert.InRange(heard, -12, -2);
        Assert.Equal(heard, At(shown, 5000), toleranceDb);
        Assert.InRange(At(shown, 1200), -1.5, 0);
    }

    // One thread processes while another looks: what it sees is always a curve that there was.
    [Theory]
    [MemberData(nameof(Spectral))]
    public void LookingNeverWaitsAndSeesWholeCurves(string id)
    {
        Processor processor = ActingSettings.Prepared(id, SampleRate);
        ISpectralReduction shown = (ISpectralReduction)processor;
        bool isDone = false;
        int looks = 0;
        string fault = string.Empty;
        Thread reader = new(() =>
        {
            while (!Volatile.Read(ref isDone) || looks < 10)
            {
                foreach (float value in shown.LatestReductionDb())
                {
                    fault = value is >= -60 and <= 30 ? fault : $"{value}";
                }

                looks++;
            }
        });
        reader.Start();
        float[] noise = Noise.White(SampleRate, 9);
        for (int round = 0; round < 4; round++)
        {
            ActingSettings.Run(processor, [.. noise], [.. noise]);
        }

        Volatile.Write(ref isDone, true);
        reader.Join();
        Assert.Equal(string.Empty, fault);
    }

    private static double At(ISpectralReduction shown, double frequencyHz)
    {
        ReadOnlySpan<float> frequencies = shown.ReductionFrequenciesHz;
        ReadOnlySpan<float> curve = shown.LatestReductionDb();
        int above = 0;
        while (frequencies[above] < frequencyHz)
        {
            above++;
        }

        return frequencies[above] - frequencyHz < frequencyHz - frequencies[above - 1] ? curve[above] : curve[above - 1];
    }
}
