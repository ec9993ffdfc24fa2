using System.Runtime.Intrinsics;

namespace LiveStems.Dsp.Dynamics;

/// <summary>
/// How strong the band above a frequency is beside the voice's own level, as a ratio of powers: the same for a line and for
/// the same line sung quieter.
/// </summary>
/// <remarks>
/// <para>
/// Sibilance: power of both channels behind a fourth-order Butterworth high-pass, through a one-pole of <see cref="SibilanceMs"/>.
/// Voice: power below the same corner (second order), which rises as fast, lest a word that sets in look like hiss, and falls with
/// <see cref="VoiceMs"/>; from it a long-term level that rises
/// with <see cref="RiseMs"/> and falls with <see cref="FallMs"/>, but hardly (<see cref="PauseFallMs"/>) when the present level is
/// <see cref="PauseDb"/> below it: pauses and breaths do not count. Every rule compares powers with each other, so nothing but
/// <see cref="SilencePower"/> knows about absolute level.
/// </para>
/// <para>
/// The sibilance is divided by the higher of the long-term and the present level: a word that is suddenly loud and bright all
/// over is no sibilant.
/// </para>
/// <para>
/// The high-pass is two state-variable filters with trapezoidal integrators (V. Zavalishin, "The Art of VA Filter Design",
/// ch. 4, from memory), whose corner may move while they run.
/// </para>
/// </remarks>
public sealed class SibilanceDetector
{
    /// <summary>Time constant of the sibilance's power, ms.</summary>
    public const double SibilanceMs = 1;

    /// <summary>Time constant with which the voice's present power falls, ms.</summary>
    public const double VoiceMs = 10;

    /// <summary>Time constant with which the long-term level rises, ms.</summary>
    public const double RiseMs = 100;

    /// <summary>Time constant with which the long-term level falls while there is voice, ms.</summary>
    public const double FallMs = 800;

    /// <summary>Time constant with which the long-term level falls in pauses, ms.</summary>
    public const double PauseFallMs = 20_000;

    /// <summary>How far below the long-term level a pause begins, dB.</summary>
    public const double PauseDb = 20;

    /// <summary>No voice counts as quieter than this mean power of both channels, −70 dB.</summary>
    public const double SilencePower = 1e-7;

    private const double LoudestSample = 1e6;

    private Filter steep = new(2 * Math.Sin(Math.PI / 8));
    private Filter gentle = new(2 * Math.Sin(3 * Math.PI / 8));
    private double sibilanceShare;
    private double voiceShare;
    private double riseShare;
    private double fallShare;
    private double pauseFallShare;
    private double sibilance;
    private double present;
    private double longTerm;

    /// <summary>Sets the corner, Hz, below half the sample rate; the state stays.</summary>
    public void Set(double frequencyHz, double sampleRate)
    {
        double g = Math.Tan(Math.PI * frequencyHz / sampleRate);
        steep.SetCorner(g);
        gentle.SetCorner(g);
        sibilanceShare = 1 - TimeConstant.Pole(SibilanceMs, sampleRate);
        voiceShare = 1 - TimeConstant.Pole(VoiceMs, sampleRate);
        riseShare = 1 - TimeConstant.Pole(RiseMs, sampleRate);
        fallShare = 1 - TimeConstant.Pole(FallMs, sampleRate);
        pauseFallShare = 1 - TimeConstant.Pole(PauseFallMs, sampleRate);
    }

    /// <summary>Silence before.</summary>
    public void Reset()
    {
        steep.Reset();
        gentle.Reset();
        sibilance = present = longTerm = 0;
    }

    /// <summary>Sets state below 1e-20 to zero.</summary>
    public void FlushTinyState()
    {
        steep.FlushTinyState();
        gentle.FlushTinyState();
        sibilance = sibilance < 1e-20 ? 0 : sibilance;
        present = present < 1e-20 ? 0 : present;
        longTerm = longTerm < 1e-20 ? 0 : longTerm;
    }

    /// <summary>
    /// Writes the ratio of powers at each frame. All spans have one length; samples that are not finite, or beyond ±1e6,
    /// count as silence.
    /// </summary>
    public void Process(ReadOnlySpan<float> keyLeft, ReadOnlySpan<float> keyRight, Span<float> ratio)
    {
        double pause = Decibels.ToPower(-PauseDb);
        Filter first = gentle;
        Filter second = steep;
        double s = sibilance, p = present, v = longTerm;
        Vector128<double> loudest = Vector128.Create(LoudestSample);
        for (int n = 0; n < ratio.Length; n++)
        {
            Vector128<double> x = Vector128.Create((double)keyLeft[n], keyRight[n]);
            x &= Vector128.LessThanOrEqual(Vector128.Abs(x), loudest);
            Vector128<double> high = first.Next(x, out Vector128<double> low);
            high = second.Next(high, out _);
            s = Math.FusedMultiplyAdd(sibilanceShare, Power(high) - s, s);
            double below = Power(low);
            p = Math.FusedMultiplyAdd(below > p ? sibilanceShare : voiceShare, below - p, p);
            double share = p > v ? riseShare : p > pause * v ? fallShare : pauseFallShare;
            v = Math.FusedMultiplyAdd(share, p - v, v);
            ratio[n] = (float)(s / Math.Max(Math.Max(p, v), SilencePower));
        }

        gentle = first;
        steep = second;
        sibilance = s;
        present = p;
        longTerm = v;
    }

    private static double Power(Vector128<double> frame)
    {
        Vector128<double> squares = frame * frame;
        return squares.ToScalar() + squares[1];
    }

    private struct Filter(double damping)
    {
        private readonly Vector128<double> k = Vector128.Create(damping);
        private Vector128<double> a1;
        private Vector128<double> a2;
        private Vector128<double> a3;
        private Vector128<double> band;
        private Vector128<double> lowState;

        public void SetCorner(double g)
        {
            double decay = 1 / (1 + g * (g + k.ToScalar()));
            a1 = Vector128.Create(decay);
            a2 = Vector128.Create(g * decay);
            a3 = Vector128.Create(g * g * decay);
        }

        public void Reset() => band = lowState = Vector128<double>.Zero;

        public void FlushTinyState()
        {
            Vector128<double> tiny = Vector128.Create(1e-20);
            band &= Vector128.GreaterThan(Vector128.Abs(band), tiny);
            lowState &= Vector128.GreaterThan(Vector128.Abs(lowState), tiny);
        }

        public Vector128<double> Next(Vector128<double> x, out Vector128<double> low)
        {
            Vector128<double> v3 = x - lowState;
            Vector128<double> v1 = Vector128.FusedMultiplyAdd(a1, band, a2 * v3);
            low = lowState + Vector128.FusedMultiplyAdd(a2, band, a3 * v3);
            band = v1 + v1 - band;
            lowState = low + low - lowState;
            return x - low - k * v1;
        }
    }
}
