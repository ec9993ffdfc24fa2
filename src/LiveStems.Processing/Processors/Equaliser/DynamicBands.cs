using LiveStems.Dsp.Dynamics;
using LiveStems.Dsp.Filters;
using LiveStems.Processing.Contract;
using static LiveStems.Processing.Processors.Equaliser.DynamicParameters;

namespace LiveStems.Processing.Processors.Equaliser;

/// <summary>The bands whose gain moves with the sound. While there is none, nothing is done.</summary>
internal sealed class DynamicBands
{
    private const int Bands = EqualiserParameters.Bands;

    private readonly DynamicBand[] bands = MakeBands();
    private readonly KeyInterval interval = new();
    private double sampleRate = 48_000;
    private bool hasLatency;
    private bool intervalIsWhole;

    /// <summary>True while any band moves or listens.</summary>
    public bool IsActive { get; private set; }

    /// <summary>The most that any band took away since <see cref="RestartMeter"/>, dB, 0 or below.</summary>
    public float DeepestDb { get; private set; }

    /// <summary>Takes memory.</summary>
    public void Prepare(int rate, int latencyFrames)
    {
        sampleRate = rate;
        hasLatency = latencyFrames > 0;
        interval.Prepare(latencyFrames);
    }

    /// <summary>State as if from silence.</summary>
    public void Reset(EqualiserProcessor equaliser, ReadOnlySpan<FilterSettings> settings, ReadOnlySpan<bool> isHeard)
    {
        interval.Reset();
        intervalIsWhole = false;
        DeepestDb = 0;
        for (int band = 0; band < Bands; band++)
        {
            bands[band].Reset(IsWanted(equaliser, band, settings, isHeard));
        }

        Follow(equaliser, settings, isHeard);
    }

    /// <summary>Starts <see cref="DeepestDb"/> anew from what is in use now.</summary>
    public void RestartMeter()
    {
        DeepestDb = 0;
        Measure();
    }

    /// <summary>Takes parameters as they are now.</summary>
    public void Follow(EqualiserProcessor equaliser, ReadOnlySpan<FilterSettings> settings, ReadOnlySpan<bool> isHeard)
    {
        IsActive = false;
        for (int band = 0; band < Bands; band++)
        {
            bool isWanted = IsWanted(equaliser, band, settings, isHeard);
            bands[band].Want(isWanted);
            if (isWanted)
            {
                Set(equaliser, band, settings[band]);
            }

            IsActive |= bands[band].IsActive;
        }
    }

    /// <summary>True while a band moves or listens.</summary>
    public bool IsActiveIn(int band) => bands[band].IsActive;

    /// <summary>What the gain of a band adds.</summary>
    public GainTravel Travel(int band) => bands[band].Travel;

    /// <summary>Hears a part of a control interval before it is processed.</summary>
    public void Hear(in StereoBlock part, int position)
    {
        if (IsActive)
        {
            interval.Hear(part, position);
            intervalIsWhole = position + part.Frames == Processor.ControlInterval;
        }
        else if (hasLatency)
        {
            HearInPieces(part, position);
        }
    }

    /// <summary>Moves all bands by a control step.</summary>
    public void Step(int fadeSteps)
    {
        if (!IsActive)
        {
            return;
        }

        IsActive = false;
        foreach (DynamicBand band in bands)
        {
            if (band.IsActive && intervalIsWhole)
            {
                band.Step(interval, fadeSteps);
            }

            IsActive |= band.IsActive;
        }

        intervalIsWhole = false;
        Measure();
    }

    // Keeps the delayed key up to date for a band that may become dynamic.
    private void HearInPieces(in StereoBlock part, int position)
    {
        int done = 0;
        while (done < part.Frames)
        {
            int place = (position + done) % Processor.ControlInterval;
            int frames = Math.Min(Processor.ControlInterval - place, part.Frames - done);
            interval.Hear(part.Slice(done, frames), place);
            done += frames;
        }
    }

    private void Measure()
    {
        foreach (DynamicBand band in bands)
        {
            DeepestDb = Math.Min(DeepestDb, (float)band.Travel.GainDb);
        }
    }

    private static bool IsWanted(EqualiserProcessor equaliser, int band, ReadOnlySpan<FilterSettings> settings, ReadOnlySpan<bool> isHeard) =>
        isHeard[band] && FilterBand.HasGain(settings[band].Shape) && equaliser.BandValue(band, Dynamic) >= 0.5;

    private void Set(EqualiserProcessor equaliser, int band, in FilterSettings settings)
    {
        DynamicBand to = bands[band];
        double centreHz = settings.FrequencyHz;
        if (equaliser.BandValue(band, DynamicParameters.KeyBand) == FreeBand)
        {
            centreHz = equaliser.BandValue(band, KeyFrequencyHz);
            to.ListenToFreeBand(centreHz, equaliser.BandValue(band, KeyWidthOctaves), sampleRate);
        }
        else
        {
            to.ListenToOwnBand(settings, sampleRate);
        }

        double rangeDb = equaliser.BandValue(band, RangeDb);
        BandGainSettings gain = new(
            equaliser.BandValue(band, ThresholdDb),
            equaliser.BandValue(band, ThresholdReference) == RelativeToLongTerm,
            equaliser.BandValue(band, Acts) == ActsBelow,
            equaliser.BandValue(band, Ratio),
            equaliser.BandValue(band, KneeDb),
            Math.Abs(rangeDb),
            equaliser.BandValue(band, AttackMs),
            equaliser.BandValue(band, ReleaseMs));
        to.Set(gain, rangeDb, equaliser.BandValue(band, KeySignal) == OtherSignal, centreHz, sampleRate / Processor.ControlInterval);
    }

    private static DynamicBand[] MakeBands()
    {
        DynamicBand[] bands = new DynamicBand[Bands];
        for (int i = 0; i < Bands; i++)
        {
            bands[i] = new DynamicBand();
        }

        return bands;
    }
}
