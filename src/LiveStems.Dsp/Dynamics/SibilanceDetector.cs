using System.Runtime.CompilerServices;
using System.Runtime.Intrinsics;
using LiveStems.Dsp.Simd;

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
    private const int ChunkFrames = 256;

    private readonly float[] highPower = new float[ChunkFrames];
    private readonly float[] lowPower = new float[ChunkFrames];
    private Bands bands = new() { Gentle = new(2 * Math.Sin(3 * Math.PI / 8)), Steep = new(2 * Math.Sin(Math.PI / 8)) };

    // Lane 0: sibilance, lane 1: the voice's present power; and the shares with which they rise and fall.
    private Vector128<double> followers;
    private Vector128<double> upShares;
    private Vector128<double> downShares;
    private double riseShare;
    private double fallShare;
    private double pauseFallShare;
    private double longTerm;

    /// <summary>Sets the corner, Hz, below half the sample rate; the state stays.</summary>
    public void Set(double frequencyHz, double sampleRate)
    {
        double g = Math.Tan(Math.PI * frequencyHz / sampleRate);
        bands.Steep.SetCorner(g);
        bands.Gentle.SetCorner(g);
        double sibilanceShare = 1 - TimeConstant.Pole(SibilanceMs, sampleRate);
        upShares = Vector128.Create(sibilanceShare);
        downShares = Vector128.Create(sibilanceShare, 1 - TimeConstant.Pole(VoiceMs, sampleRate));
        riseShare = 1 - TimeConstant.Pole(RiseMs, sampleRate);
        fallShare = 1 - TimeConstant.Pole(FallMs, sampleRate);
        pauseFallShare = 1 - TimeConstant.Pole(PauseFallMs, sampleRate);
    }

    /// <summary>Silence before.</summary>
    public void Reset()
    {
        bands.Steep.Reset();
        bands.Gentle.Reset();
        followers = default;
        longTerm = 0;
    }

    /// <summary>Sets state below 1e-20 to zero.</summary>
    public void FlushTinyState()
    {
        bands.Steep.FlushTinyState();
        bands.Gentle.FlushTinyState();
        followers &= Vector128.GreaterThanOrEqual(followers, Vector128.Create(1e-20));
        longTerm = longTerm < 1e-20 ? 0 : longTerm;
    }

    /// <summary>
    /// Writes the ratio of powers at each frame. All spans have one length; samples that are not finite, or beyond ±1e6,
    /// count as silence.
    /// </summary>
    public void Process(ReadOnlySpan<float> keyLeft, ReadOnlySpan<float> keyRight, Span<float> ratio)
    {
        for (int done = 0; done < ratio.Length; done += ChunkFrames)
        {
            int frames = Math.Min(ChunkFrames, ratio.Length - done);
            Span<float> high = highPower.AsSpan(0, frames);
            Span<float> low = lowPower.AsSpan(0, frames);
            StereoRecursion.Run(ref bands, keyLeft.Slice(done, frames), keyRight.Slice(done, frames), high, low);
            Follow(high, low, ratio.Slice(done, frames));
        }
    }

    // Without branches: which way a level moves is as good as random.
    private void Follow(ReadOnlySpan<float> high, ReadOnlySpan<float> low, Span<float> ratio)
    {
        Vector128<double> pause = Vector128.CreateScalar(Decibels.ToPower(-PauseDb));
        Vector128<double> silence = Vector128.CreateScalar(SilencePower);
        Vector128<double> rise = Vector128.CreateScalar(riseShare);
        Vector128<double> fall = Vector128.CreateScalar(fallShare);
        Vector128<double> pauseFall = Vector128.CreateScalar(pauseFallShare);
        (Vector128<double> both, Vector128<double> up, Vector128<double> down) = (followers, upShares, downShares);
        Vector128<double> voice = Vector128.CreateScalar(longTerm);
        for (int n = 0; n < ratio.Length; n++)
        {
            Vector128<double> target = Vector128.Create((double)high[n], low[n]);
            Vector128<double> share = Vector128.ConditionalSelect(Vector128.GreaterThan(target, both), up, down);
            both = Vector128.FusedMultiplyAdd(share, target - both, both);
            Vector128<double> present = Vector128.Shuffle(both, Vector128.Create(1L, 1));
            share = Vector128.ConditionalSelect(Vector128.GreaterThan(present, pause * voice), fall, pauseFall);
            share = Vector128.ConditionalSelect(Vector128.GreaterThan(present, voice), rise, share);
            voice = Vector128.FusedMultiplyAdd(share, present - voice, voice);
            Vector128<double> beside = Vector128.MaxNative(Vector128.MaxNative(present, voice), silence);
            ratio[n] = (float)(both / beside).ToScalar();
        }

        followers = both;
        longTerm = voice.ToScalar();
    }

    // Powers of both channels together, above and below the corner.
    private struct Bands : IStereoStep
    {
        public Filter Gentle;
        public Filter Steep;

        [MethodImpl(MethodImplOptions.AggressiveInlining)]
        public Vector128<double> Next(Vector128<double> frame)
        {
            Vector128<double> x = frame & Vector128.LessThanOrEqual(Vector128.Abs(frame), Vector128.Create(LoudestSample));
            Vector128<double> high = Gentle.Next(x, out Vector128<double> low);
            high = Steep.Next(high, out _);
            high *= high;
            low *= low;
            return Vector128.Create(high.ToScalar(), low.ToScalar()) + Vector128.Create(high[1], low[1]);
        }
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

        [MethodImpl(MethodImplOptions.AggressiveInlining)]
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
