using System.Numerics;
using LiveStems.Dsp.Spectral;
using LiveStems.Processing.Catalogue;
using LiveStems.Processing.Contract;
using Xunit;

namespace LiveStems.Tests.Nets;

/// <summary>Dry and wet sound, aligned by the declared latency, never cancel each other.</summary>
public class MixNet
{
    private const int SampleRate = ProcessorUnderTest.SampleRate;
    private const int Size = 65_536;

    public static TheoryData<string> Ids() => ProcessorUnderTest.Ids();

    // A comb would have notches where wet and dry are opposite. Over the whole band where a processor passes sound, wet and
    // dry stay within 90° of each other, so a blend of both is never weaker than √½ of what they add up to in phase.
    [Theory]
    [MemberData(nameof(Ids))]
    public void WetAndDryAreNeverOpposed(string id)
    {
        Check(id, _ => { });
        IReadOnlyList<ParameterSpec> parameters = BuiltInProcessors.Catalogue.Find(id)!.Parameters;
        for (int i = 0; i < parameters.Count; i++)
        {
            int index = i;
            for (double value = parameters[i].Minimum; parameters[i].IsStructural && parameters[i].Taper == Taper.Stepped && value <= parameters[i].Maximum; value++)
            {
                double choice = value;
                Check(id, processor => processor.SetParameter(index, choice));
            }
        }
    }

    private static void Check(string id, Action<Processor> set)
    {
        Processor processor = BuiltInProcessors.Catalogue.Create(id)!;
        set(processor);
        processor.Prepare(new ProcessingFormat(SampleRate, 8192));
        int latency = processor.LatencyFrames;
        float[] left = new float[Size + latency], right = new float[Size + latency];
        left[20_000] = right[20_000] = 1e-3f;
        ActingSettings.Run(processor, left, right);
        DoubleFourierTransform transform = new(Size);
        double[] response = new double[Size], real = new double[transform.Bins], imaginary = new double[transform.Bins];
        for (int n = 0; n < Size; n++)
        {
            response[(n - 20_000 + Size) % Size] = 1e3 * left[n + latency];
        }

        transform.Forward(response, real, imaginary);
        for (int bin = 100 * Size / SampleRate; bin < 18_000L * Size / SampleRate; bin++)
        {
            Complex wet = new(real[bin], imaginary[bin]);
            double blend = Complex.Abs(0.5 + 0.5 * wet);
            Assert.True(
                blend >= Math.Sqrt(0.5) * (0.5 + 0.5 * Complex.Abs(wet)) - 1e-3,
                $"{id}: at {(double)bin * SampleRate / Size:0} Hz half wet is {blend:0.000}, wet {wet}");
        }
    }
}
