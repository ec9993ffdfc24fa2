using LiveStems.Dsp.Filters;
using LiveStems.Processing.Contract;
using LiveStems.Processing.Processors.Equaliser;
using Xunit;

namespace LiveStems.Conformance.Processors;

/// <summary>The equaliser's linear phase and dynamic bands against scipy.signal.</summary>
public class EqualiserAgreementTests
{
    private const int SampleRate = 48_000;

    private static readonly double[] Frequencies = [30, 45, 80, 120, 250, 400, 700, 1000, 2000, 3000, 5000, 8000, 12_000, 16_000, 19_000];

    // Analogue prototypes by scipy.signal.freqs; the matched design is good for 0.1 dB, the length for 0.05 dB. The delay by
    // scipy.signal.group_delay: a symmetrical response has one at all frequencies, rounding apart.
    [Fact]
    public void LinearPhaseHasTheAnalogueMagnitudeAndOneDelay()
    {
        EqualiserProcessor equaliser = Prepared(
            ("phase", 1),
            ("band1.shape", (int)FilterShape.HighPass), ("band1.frequencyHz", 35), ("band1.slopeDbPerOctave", 1),
            ("band2.on", 1), ("band2.frequencyHz", 250), ("band2.gainDb", -8), ("band2.q", 3),
            ("band3.on", 1), ("band3.frequencyHz", 3000), ("band3.gainDb", 10), ("band3.q", 1.5));
        float[] response = new float[4 * 8192], right = new float[4 * 8192];
        response[0] = 1;
        for (int start = 0; start < response.Length; start += 8192)
        {
            equaliser.Process(new StereoBlock(response.AsSpan(start, 8192), right.AsSpan(start, 8192)));
        }

        double[] reference = Scipy.Numbers($"""
            f = np.array({Scipy.Write(Frequencies)})
            def bell(f0, q, gain):
                A = 10 ** (gain / 40)
                return signal.freqs([1, A / q, 1], [1, 1 / (A * q), 1], f / f0)[1]
            h = signal.freqs([1, 0, 0], [1, 1 / 0.7071, 1], f / 35)[1] * bell(250, 3, -8) * bell(3000, 1.5, 10)
            for x in 20 * np.log10(abs(h)): print(repr(float(x)))
            """);
        double[] ours = Scipy.Evaluate(
            $"np.concatenate([20 * np.log10(abs(signal.freqz(x, worN={Scipy.Write(Frequencies)}, fs=48000)[1])), signal.group_delay((x, [1.0]), w={Scipy.Write(Frequencies)}, fs=48000)[1]])",
            [.. response.Select(value => (double)value)]);
        for (int i = 0; i < Frequencies.Length; i++)
        {
            Assert.Equal(reference[i], ours[i], 0.15);
            Assert.Equal(equaliser.LatencyFrames, ours[Frequencies.Length + i], 0.01);
        }
    }

    // The detector and the gain computer written out in numpy: two resonators (scipy.signal.bilinear and lfilter), mean power
    // of 32 frames, curve and ballistics of Giannoulis, Massberg, Reiss (JAES 60(6), 2012, eq. 4 and the smooth decoupled
    // detector), for a tone that comes and goes. Both compute in double; the meter shows floats.
    [Theory]
    [InlineData(1, 0.5, -12)]
    [InlineData(4, 0.08, -9)]
    public void GainOfADynamicBandIsThatOfTheFormulas(double q, double amplitude, double rangeDb)
    {
        EqualiserProcessor equaliser = Prepared(
            ("band1.shape", 0), ("band1.frequencyHz", 1000), ("band1.q", q), ("band1.dynamic", 1), ("band1.thresholdDb", -30), ("band1.ratio", 3),
            ("band1.kneeDb", 6), ("band1.rangeDb", rangeDb), ("band1.attackMs", 15), ("band1.releaseMs", 80));
        float[] left = [.. Enumerable.Range(0, SampleRate).Select(n => (float)((n is >= 12_000 and < 30_000 ? amplitude : 0.01) * Math.Sin(2 * Math.PI * 1050 * n / 48_000)))];
        float[] right = new float[SampleRate];
        double[] gains = new double[SampleRate / Processor.ControlInterval];
        for (int step = 0; step < gains.Length; step++)
        {
            equaliser.Process(new StereoBlock(left.AsSpan(32 * step, 32), right.AsSpan(32 * step, 32)));
            gains[step] = equaliser.GainReductionDb;
        }

        double[] expected = Scipy.Numbers($"""
            n = np.arange(48000)
            x = np.where((n >= 12000) & (n < 30000), {Scipy.Write(amplitude)}, 0.01) * np.sin(2 * np.pi * 1050 * n / 48000)
            x = x.astype(np.float32).astype(float)
            K = 1 / ({Scipy.Write(q)} * np.sqrt(np.sqrt(2) - 1))
            g = np.tan(np.pi * 1000 / 48000)
            b, a = signal.bilinear([K * g, 0], [1, K * g, g * g], fs=0.5)
            y = signal.lfilter(b, a, np.concatenate([[0], signal.lfilter(b, a, x)[:-1]]))
            pole = lambda ms: np.exp(-1000 / (ms * 1500))
            power, held, share, before = 0, 0, 0, 0
            print(0.0)
            for step in range(1499):
                power += (1 - pole(1.5)) * (np.mean(y[32 * step:32 * step + 32] ** 2) - power)
                over = max(-160, 10 * np.log10(power / 0.5 + 1e-300)) + 30
                bent = min(max(over + 3, 0), 6)
                reduction = (1 - 1 / 3) * (bent * bent / 12 + max(over - 3, 0))
                wanted = min(1, reduction / abs({Scipy.Write(rangeDb)}))
                held = max(wanted, wanted + pole(80) * (held - wanted))
                share = held + pole(15) * (share - held)
                now = share * {Scipy.Write(rangeDb)}
                print(repr(float(min(0, before, now))))
                before = now
            """);
        for (int step = 0; step < gains.Length; step++)
        {
            Assert.Equal(expected[step], gains[step], 1e-4);
        }

        Assert.True(gains.Min() < -4);
    }

    private static EqualiserProcessor Prepared(params (string Id, double Value)[] settings)
    {
        EqualiserProcessor equaliser = new();
        foreach ((string id, double value) in settings)
        {
            equaliser.SetParameter(equaliser.Description.IndexOf(id), value);
        }

        equaliser.Prepare(new ProcessingFormat(SampleRate, 8192));
        return equaliser;
    }
}
