using LiveStems.Dsp.Dynamics;
using LiveStems.Dsp.Filters;

namespace LiveStems.Processing.Processors.Equaliser;

/// <summary>What moves the gain of one band: its key filter and the way from level to gain.</summary>
internal sealed class DynamicBand
{
    private readonly KeyBand filter = new();
    private readonly BandGain gain = new();
    private bool listensToKey;
    private double rangeDb;
    private bool isWanted;

    /// <summary>What the band's gain adds.</summary>
    public GainTravel Travel => IsActive ? new(rangeDb, gain.Share) : default;

    /// <summary>True while there is something to do at control steps.</summary>
    public bool IsActive => isWanted || gain.Share > 0;

    /// <summary>State as if from silence.</summary>
    public void Reset(bool isOn)
    {
        filter.Reset();
        gain.Reset();
        isWanted = isOn;
    }

    /// <summary>Switches; what was switched off goes back by itself.</summary>
    public void Want(bool isOn)
    {
        if (isOn && !isWanted)
        {
            filter.Reset();
            if (gain.Share == 0)
            {
                gain.Reset();
            }
        }

        isWanted = isOn;
    }

    /// <summary>Listens where the band acts.</summary>
    public void ListenToOwnBand(in FilterSettings band, double sampleRate)
    {
        switch (band.Shape)
        {
            case FilterShape.LowShelf:
                filter.SetBelow(band.FrequencyHz, sampleRate);
                break;
            case FilterShape.HighShelf or FilterShape.Tilt:
                filter.SetAbove(band.FrequencyHz, sampleRate);
                break;
            default:
                filter.SetBand(band.FrequencyHz, band.Q, sampleRate);
                break;
        }
    }

    /// <summary>Listens to a band of its own choice.</summary>
    public void ListenToFreeBand(double frequencyHz, double octaves, double sampleRate) =>
        filter.SetBand(frequencyHz, KeyBand.QFromOctaves(octaves), sampleRate);

    /// <summary>Sets what is done with the level.</summary>
    /// <param name="settings">What is done; its range is the size of the signed one.</param>
    /// <param name="signedRangeDb">The range, below 0 to take down.</param>
    /// <param name="ofKey">Whether the band listens to the key.</param>
    /// <param name="centreHz">Where the key band lies.</param>
    /// <param name="stepsPerSecond">Control steps a second.</param>
    public void Set(in BandGainSettings settings, double signedRangeDb, bool ofKey, double centreHz, double stepsPerSecond)
    {
        rangeDb = signedRangeDb;
        listensToKey = ofKey;
        gain.Set(settings, centreHz, stepsPerSecond);
    }

    /// <summary>Moves by one control step, after an interval of sound.</summary>
    public void Step(KeyInterval interval, int fadeSteps)
    {
        if (isWanted)
        {
            gain.Next(interval.Power(filter, listensToKey));
        }
        else
        {
            gain.FadeOut(fadeSteps);
        }
    }
}
