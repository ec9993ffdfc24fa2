using LiveStems.Dsp.Filters;
using LiveStems.Dsp.Spectral;

namespace LiveStems.Processing.Processors.Equaliser;

/// <summary>The bands as one filter of linear phase, which follows them as they move.</summary>
/// <remarks>
/// There is no thread beside the audio thread to make filters on: each control step does a portion of bounded size of the work
/// on the next filter (<see cref="LinearPhaseFilter"/>), from the settings as they are when it begins. While parameters glide,
/// one filter after the other is faded to, each of them where the glide was when it was begun, the last where it ended.
/// </remarks>
internal sealed class LinearPhaseMode
{
    private const int Bands = EqualiserParameters.Bands;
    private const int PartitionsPerSecond = 94;

    private readonly FilterSettings[] loaded = new FilterSettings[Bands];
    private readonly bool[] heard = new bool[Bands];
    private readonly StateVariableCoefficients[] sections = new StateVariableCoefficients[Bands * MatchedDesign.MaximumSections];
    private readonly LinearPhaseFilter filter;
    private readonly int sampleRate;
    private bool isLoaded;

    /// <summary>Takes all memory for a nominal length.</summary>
    public LinearPhaseMode(double milliseconds, int rate)
    {
        sampleRate = rate;
        int length = Power(milliseconds * rate / 1000, 1024, RealFourierTransform.LargestSize);
        int partition = Power((double)rate / PartitionsPerSecond, 32, length);
        filter = new LinearPhaseFilter(length, partition, sections.Length);
    }

    /// <summary>Frames between input and output.</summary>
    public int LatencyFrames => filter.LatencyFrames;

    /// <summary>True while there is work for control steps.</summary>
    public bool IsBehind { get; private set; }

    /// <summary>State as if from silence, at the given bands.</summary>
    public void Reset(ReadOnlySpan<FilterSettings> bands, ReadOnlySpan<bool> isOn)
    {
        IsBehind = false;
        if (isLoaded && IsLoaded(bands, isOn) && !filter.IsBusy)
        {
            filter.Reset();
            return;
        }

        filter.Jump(Load(bands, isOn));
    }

    /// <summary>Does the work of a control step towards the given bands.</summary>
    public void Step(ReadOnlySpan<FilterSettings> bands, ReadOnlySpan<bool> isOn)
    {
        if (!filter.IsBusy && !IsLoaded(bands, isOn))
        {
            filter.Begin(Load(bands, isOn));
        }

        filter.Advance();
        IsBehind = filter.IsBusy || !IsLoaded(bands, isOn);
    }

    /// <summary>Filters both channels in place.</summary>
    public void Process(Span<float> left, Span<float> right) => filter.Process(left, right);

    private static int Power(double frames, int least, int most) =>
        (int)Math.Clamp(Math.Pow(2, Math.Round(Math.Log2(frames))), least, most);

    private bool IsLoaded(ReadOnlySpan<FilterSettings> bands, ReadOnlySpan<bool> isOn)
    {
        for (int band = 0; band < Bands; band++)
        {
            if (isOn[band] != heard[band] || isOn[band] && bands[band] != loaded[band])
            {
                return false;
            }
        }

        return true;
    }

    private ReadOnlySpan<StateVariableCoefficients> Load(ReadOnlySpan<FilterSettings> bands, ReadOnlySpan<bool> isOn)
    {
        int count = 0;
        for (int band = 0; band < Bands; band++)
        {
            loaded[band] = bands[band];
            heard[band] = isOn[band];
            count += isOn[band] ? MatchedDesign.DesignAudible(bands[band], sampleRate, sections.AsSpan(count)) : 0;
        }

        isLoaded = true;
        return sections.AsSpan(0, count);
    }
}
