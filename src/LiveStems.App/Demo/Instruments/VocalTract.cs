using LiveStems.App.Demo.Mixing;

namespace LiveStems.App.Demo.Instruments;

/// <summary>
/// Eight formants in cascade, each a two-pole resonator with unit gain at 0 Hz (D. Klatt, "Software for a
/// cascade/parallel formant synthesizer", JASA 67, 1980, eq. 1 and 2). The three above those of speech keep the top from
/// falling off a cliff at high sample rates, and a little of the top goes past the lowest two, without which closed
/// vowels would have none.
/// </summary>
internal sealed class VocalTract(int sampleRate, double scale)
{
    private const int Formants = 8;
    private const double TopShare = 0.03;
    private static readonly double[] FixedHertz = [0, 0, 0, 3750, 4700, 5800, 7000, 8300];
    private static readonly double[] Bandwidths = [75, 95, 130, 190, 260, 420, 600, 800];
    private readonly double[] a = new double[Formants];
    private readonly double[] b = new double[Formants];
    private readonly double[] c = new double[Formants];
    private readonly double[] once = new double[Formants];
    private readonly double[] twice = new double[Formants];
    private readonly double[] past = new double[VoiceControls.Interval];
    private Biquad top = Biquad.HighPass(2400, 0.7, sampleRate);
    private bool isFixed;

    public void Reset()
    {
        Array.Clear(once);
        Array.Clear(twice);
        top = Biquad.HighPass(2400, 0.7, sampleRate);
    }

    public void Shape(double f1, double f2, double f3, double extraBandwidth)
    {
        Set(0, f1, Bandwidths[0] + extraBandwidth);
        Set(1, f2, Bandwidths[1] + extraBandwidth);
        Set(2, f3, Bandwidths[2] + extraBandwidth);
        for (int i = 3; i < Formants && !isFixed; i++)
        {
            Set(i, FixedHertz[i] * scale, Bandwidths[i]);
        }

        isFixed = true;
    }

    public void Process(Span<double> samples)
    {
        for (int i = 2; i < Formants; i += 2)
        {
            ProcessPair(samples, i);
        }

        for (int i = 0; i < samples.Length; i++)
        {
            past[i] = TopShare * top.Next(samples[i]);
        }

        ProcessPair(samples, 0);
        for (int i = 0; i < samples.Length; i++)
        {
            samples[i] += past[i];
        }
    }

    // Two resonators in one loop: the second works on the sample that the first gave a step ago in the pipeline.
    private void ProcessPair(Span<double> samples, int first)
    {
        (double a1, double b1, double c1) = (a[first], b[first], c[first]);
        (double a2, double b2, double c2) = (a[first + 1], b[first + 1], c[first + 1]);
        (double x1, double x2) = (once[first], twice[first]);
        (double y1, double y2) = (once[first + 1], twice[first + 1]);
        for (int i = 0; i < samples.Length; i++)
        {
            double x = a1 * samples[i] + b1 * x1 + c1 * x2;
            x2 = x1;
            x1 = x;
            double y = a2 * x + b2 * y1 + c2 * y2;
            y2 = y1;
            y1 = y;
            samples[i] = y;
        }

        (once[first], twice[first], once[first + 1], twice[first + 1]) = (x1, x2, y1, y2);
    }

    private void Set(int index, double hertz, double bandwidth)
    {
        c[index] = -Math.Exp(-2 * Math.PI * bandwidth / sampleRate);
        b[index] = 2 * Math.Exp(-Math.PI * bandwidth / sampleRate) * Math.Cos(2 * Math.PI * hertz / sampleRate);
        a[index] = 1 - b[index] - c[index];
    }
}
