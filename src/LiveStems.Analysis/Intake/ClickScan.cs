using LiveStems.Dsp;
using LiveStems.Dsp.Simd;
using LiveStems.Dsp.Spectral;

namespace LiveStems.Analysis.Intake;

/// <summary>
/// Finds clicks in one channel: errors of a linear prediction that stand far above those just before <em>and</em> just
/// after (S. V. Vaseghi and P. J. W. Rayner, IEE Proceedings I 137, 1990; S. J. Godsill and P. J. W. Rayner, "Digital Audio
/// Restoration", 1998, chapter 5, detection by the prediction error).
/// </summary>
/// <remarks>
/// A drum stroke, a plucked string or a consonant surprises the prediction too, but it leaves sound behind: the error stays
/// raised, or the level does; and the pulses of a voice or a reed come again and again. So the error must stand 20 dB above
/// the larger of its medians over 128 samples on either side and 8 dB above its largest value within 512 samples (or 36 dB
/// above the medians, where clicks come in showers); and a place where the level rises at once by more than 6 dB is taken
/// for the start of a note, unless the error stands above the sound itself, 5 dB above all of it within 10 ms. These
/// thresholds were set on noise and synthetic tones.
/// </remarks>
internal sealed class ClickScan
{
    private const int Order = 24;
    private const int Stretch = 4096;
    private const int Step = 2048;
    private const int Margin = (Stretch - Step) / 2;
    private const int Group = 64;
    private const int Around = 9 * Group;

    // Samples to either side that may belong to the click itself.
    private const int Guard = 24;
    private const int Beside = 128;
    private const int Neighbourhood = 512;

    private const float Suspicion = 8;
    private const float LeastRatio = 10;
    private const float RatioToPeaks = 2.5f;
    private const float RatioThatStandsAlone = 60;
    private const double RiseOfNote = 4;
    private const float RatioToSound = 1.8f;
    private const float LeastShareOfLevel = 0.02f;
    private const float FloorOfError = 1e-6f;
    private static readonly float LeastError = (float)Decibels.ToAmplitude(-60);

    private readonly int channel;
    private readonly EventList found;
    private readonly int quietFrames;
    private readonly LinearPrediction prediction = new(Order);
    private readonly AnalysisWindow window = AnalysisWindow.Hann(Stretch);
    private readonly float[] sound = new float[Stretch];
    private readonly float[] windowed = new float[Stretch];
    private readonly float[] error = new float[Step + 2 * Around];
    private readonly float[] sorted = new float[Step + 2 * Around];
    private readonly float[] mean = new float[(Step + 2 * Around) / Group];
    private int filled = Margin;
    private long start = -Margin;
    private long end = long.MaxValue;
    private SoundEvent? last;

    public ClickScan(int channel, int sampleRate, EventList found)
    {
        this.channel = channel;
        this.found = found;
        quietFrames = sampleRate / 100;
    }

    /// <summary>Adds samples of the channel.</summary>
    public void Add(ReadOnlySpan<float> samples)
    {
        while (samples.Length > 0)
        {
            int count = Math.Min(samples.Length, Stretch - filled);
            samples[..count].CopyTo(sound.AsSpan(filled));
            filled += count;
            samples = samples[count..];
            if (filled == Stretch)
            {
                Search();
                sound.AsSpan(Step).CopyTo(sound);
                filled -= Step;
                start += Step;
            }
        }
    }

    /// <summary>Looks at the rest, with silence after it.</summary>
    public void Finish()
    {
        end = start + filled;
        sound.AsSpan(filled).Clear();
        Search();
        Report();
    }

    private void Search()
    {
        window.Apply(sound, windowed);
        if (!prediction.Fit(windowed))
        {
            return;
        }

        prediction.Residual(sound, Margin - Around, error);
        if (!IsSuspicious())
        {
            return;
        }

        // The clicks themselves spoil the prediction: fit it again to the sound without them.
        WithoutOutliers();
        prediction.Fit(windowed);
        prediction.Residual(sound, Margin - Around, error);
        for (int group = Around; group < Around + Step; group += Group)
        {
            int at = group;
            for (int n = group + 1; n < group + Group; n++)
            {
                at = Math.Abs(error[n]) > Math.Abs(error[at]) ? n : at;
            }

            Judge(at);
        }
    }

    private bool IsSuspicious()
    {
        for (int g = 0; g < mean.Length; g++)
        {
            ReadOnlySpan<float> group = error.AsSpan(g * Group, Group);
            float sum = 0;
            foreach (float value in group)
            {
                sum += MathF.Abs(value);
            }

            mean[g] = sum / Group;
        }

        for (int g = 2; g < mean.Length - 2; g++)
        {
            float quietest = MathF.Min(MathF.Min(mean[g - 2], mean[g - 1]), MathF.Min(mean[g + 1], mean[g + 2]));
            float peak = Magnitude.Largest(error.AsSpan(g * Group, Group));
            if (peak >= LeastError && peak >= Suspicion * quietest)
            {
                return true;
            }
        }

        return false;
    }

    private void WithoutOutliers()
    {
        float limit = Suspicion * Median(error, sorted);
        for (int n = 0; n < error.Length; n++)
        {
            float excess = MathF.Abs(error[n]) - limit;
            if (excess > 0)
            {
                int at = Margin - Around + n;
                windowed[at] -= MathF.CopySign(excess, error[n]) * window.Values[at];
            }
        }
    }

    private void Judge(int at)
    {
        float size = MathF.Abs(error[at]);
        if (size < LeastError)
        {
            return;
        }

        float before = Median(error.AsSpan(at - Guard - Beside, Beside), sorted);
        float after = Median(error.AsSpan(at + Guard + 1, Beside), sorted);
        float beside = MathF.Max(MathF.Max(before, after), FloorOfError);
        int inSound = Margin - Around + at;
        long frame = start + inSound;
        if (frame < Guard || frame >= end - Guard)
        {
            // A file that is cut off has an edge there, which is a finding of its own.
            return;
        }

        double energyBefore = Energy(inSound - Guard - Beside);
        double energyAfter = Energy(inSound + Guard + 1);
        double level = Math.Sqrt(Math.Max(energyBefore, energyAfter) / Beside);
        bool isNoNote = StandsOut(at, size, beside) && size >= LeastShareOfLevel * level && energyAfter <= RiseOfNote * energyBefore + LeastError * LeastError;
        if (isNoNote || (size >= LeastRatio * beside && StandsAboveTheSound(inSound, size)))
        {
            Take(new SoundEvent(frame, 1, channel, Decibels.FromAmplitude(size)));
        }
    }

    private bool StandsOut(int at, float size, float beside)
    {
        if (size >= RatioThatStandsAlone * beside)
        {
            return true;
        }

        float peak = Magnitude.Largest(error.AsSpan(at - Guard - Neighbourhood, Neighbourhood));
        peak = Magnitude.Largest(error.AsSpan(at + Guard + 1, Neighbourhood), peak);
        return size >= LeastRatio * beside && size >= RatioToPeaks * peak;
    }

    private bool StandsAboveTheSound(int inSound, float size)
    {
        float peak = Magnitude.Largest(sound.AsSpan(inSound - Guard - Neighbourhood, Neighbourhood));
        peak = Magnitude.Largest(sound.AsSpan(inSound + Guard + 1, Neighbourhood), peak);
        return size >= RatioToSound * peak;
    }

    private double Energy(int from)
    {
        ReadOnlySpan<float> stretch = sound.AsSpan(from, Beside);
        return Products.Sum(stretch, stretch);
    }

    // Both edges of one fault are one click.
    private void Take(SoundEvent click)
    {
        if (last is { } earlier && click.Frame - (earlier.Frame + earlier.Frames) < quietFrames)
        {
            last = earlier with { Frames = click.Frame + 1 - earlier.Frame, Size = Math.Max(earlier.Size, click.Size) };
            return;
        }

        Report();
        last = click;
    }

    private void Report()
    {
        if (last is { } click)
        {
            found.Add(click);
            last = null;
        }
    }

    private static float Median(ReadOnlySpan<float> values, float[] work)
    {
        for (int i = 0; i < values.Length; i++)
        {
            work[i] = MathF.Abs(values[i]);
        }

        Span<float> used = work.AsSpan(0, values.Length);
        used.Sort();
        return used[values.Length / 2];
    }
}
