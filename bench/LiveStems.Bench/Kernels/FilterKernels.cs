using BenchmarkDotNet.Attributes;
using LiveStems.Dsp.Filters;

namespace LiveStems.Bench.Kernels;

/// <summary>
/// A cascade over one block: divide by frames, two channels and sections for the time of a channel-sample and biquad. The
/// plain form is what the textbook has: transposed direct form 2, section by section, channel by channel.
/// </summary>
[MemoryDiagnoser]
public class FilterKernels
{
    private StereoCascade cascade = new(0);
    private StateVariableCoefficients[] sections = [];
    private BiquadCoefficients[] plain = [];
    private double[] plainState = [];
    private float[] sound = [];
    private float[] left = [];
    private float[] right = [];

    [Params(4, 8)]
    public int Sections { get; set; }

    [Params(64, 512)]
    public int Frames { get; set; }

    [GlobalSetup]
    public void Prepare()
    {
        plain = [.. Enumerable.Range(0, Sections).Select(i => BiquadDesign.Bell(100 * (i + 1), 1, 3 - 6 * (i % 2), 48_000))];
        sections = [.. plain.Select(biquad => StateVariableCoefficients.FromBiquad(biquad))];
        plainState = new double[4 * Sections];
        cascade = new StereoCascade(Sections);
        for (int i = 0; i < Sections; i++)
        {
            cascade.Set(i, sections[i]);
        }

        sound = ProgrammeSamples.PinkNoise(Frames, 1, 1);
        left = new float[Frames];
        right = new float[Frames];
    }

    [Benchmark(Baseline = true)]
    public void PlainDirectForm()
    {
        TakeSound();
        for (int i = 0; i < Sections; i++)
        {
            RunPlain(plain[i], plainState.AsSpan(4 * i, 2), left);
            RunPlain(plain[i], plainState.AsSpan(4 * i + 2, 2), right);
        }
    }

    [Benchmark]
    public void Still()
    {
        TakeSound();
        cascade.Process(left, right);
    }

    [Benchmark]
    public void Gliding()
    {
        TakeSound();
        for (int start = 0; start < Frames; start += 32)
        {
            for (int i = 0; i < Sections; i++)
            {
                cascade.MoveTo(i, sections[i]);
            }

            cascade.StartGlide(32);
            cascade.Process(left.AsSpan(start, 32), right.AsSpan(start, 32));
        }
    }

    // Fresh sound each time: sound filtered over and over would run into infinity or subnormal numbers.
    private void TakeSound()
    {
        sound.CopyTo(left, 0);
        sound.CopyTo(right, 0);
    }

    private static void RunPlain(in BiquadCoefficients c, Span<double> state, float[] sound)
    {
        (double s1, double s2) = (state[0], state[1]);
        for (int n = 0; n < sound.Length; n++)
        {
            double x = sound[n];
            double y = c.B0 * x + s1;
            s1 = c.B1 * x - c.A1 * y + s2;
            s2 = c.B2 * x - c.A2 * y;
            sound[n] = (float)y;
        }

        (state[0], state[1]) = (s1, s2);
    }
}
