namespace LiveStems.Engine.Monitor;

/// <summary>
/// A filter that falls by 3.01 dB an octave from about 2 Hz to half the sample rate, within 0.003 dB up to 0.985 of that:
/// a ladder of real poles and zeros.
/// </summary>
/// <remarks>
/// Poles one and a half octaves apart with a zero midway between neighbours give a slope of half an order with a ripple
/// below 0.001 dB. Towards half the sample rate such a ladder bends, so the three topmost pairs and the place of the rest
/// were found by a weighted least-squares fit, re-weighted towards the least maximum, of |H|² ω over ω up to 0.985 π. The
/// ladder hangs from the sample rate, so one set of numbers serves all of them.
/// </remarks>
internal sealed class PinkSlope
{
    private const double LowestHz = 2;
    private const double Ladder = 3.9986800112448988;

    private static readonly double PoleRatio = Math.Pow(2, 1.5);
    private static readonly double[] TopPoles = [-0.8712887069828787, -0.5388969476962643, -0.09195694601935944];
    private static readonly double[] TopZeros = [-0.8740737132936017, -0.5647124451405722, -0.15295741232940105];

    private readonly double[] poles;
    private readonly double[] zeros;
    private readonly double[] inputs;
    private readonly double[] outputs;

    public PinkSlope(double sampleRate)
    {
        double lowest = 2 * Math.PI * LowestHz / sampleRate;
        int rungs = 1 + (int)Math.Ceiling(Math.Log(Ladder / lowest) / Math.Log(PoleRatio));
        double[] places = [.. Enumerable.Range(0, rungs).Select(rung => Ladder * Math.Pow(PoleRatio, -rung))];
        poles = [.. TopPoles, .. places.Select(place => Math.Exp(-place))];
        zeros = [.. TopZeros, .. places.Select(place => Math.Exp(-place * Math.Sqrt(PoleRatio)))];
        inputs = new double[poles.Length];
        outputs = new double[poles.Length];
    }

    /// <summary>As if from silence.</summary>
    public void Reset()
    {
        Array.Clear(inputs);
        Array.Clear(outputs);
    }

    /// <summary>One sample.</summary>
    public double Next(double input)
    {
        double x = input;
        for (int i = 0; i < poles.Length; i++)
        {
            double y = x - zeros[i] * inputs[i] + poles[i] * outputs[i];
            inputs[i] = x;
            outputs[i] = y;
            x = y;
        }

        return x;
    }

    /// <summary>|H|² at an angular frequency in radians a sample.</summary>
    public double PowerAt(double omega)
    {
        double sine = Math.Sin(omega / 2);
        double power = 1;
        for (int i = 0; i < poles.Length; i++)
        {
            power *= FactorPower(zeros[i], sine) / FactorPower(poles[i], sine);
        }

        return power;
    }

    // |1 − r e^(−jω)|² without cancellation at low frequencies.
    private static double FactorPower(double root, double sine) => (1 - root) * (1 - root) + 4 * root * sine * sine;
}
