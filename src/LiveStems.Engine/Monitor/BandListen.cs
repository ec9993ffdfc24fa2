using LiveStems.Dsp;
using LiveStems.Engine.RealTime;

namespace LiveStems.Engine.Monitor;

/// <summary>
/// Lets one band of the sound be heard, brought up towards the loudness of the whole. The filter and the make-up always
/// run, so that switching is a cross-fade between two sounds that have settled, and the load does not change with it.
/// </summary>
internal sealed class BandListen
{
    private readonly int stepFrames;
    private readonly int sampleRate;
    private readonly BandSlopes slopes;
    private readonly KWeightedEnergy wholeEnergy;
    private readonly KWeightedEnergy bandEnergy;
    private readonly BandMakeUp makeUp;
    private readonly StereoBuffer band;
    private readonly StereoDelayLine wholeDelay;
    private readonly StereoDelayLine bandDelay;
    private Glide centre;
    private Glide width;
    private Glide share;
    private bool isSteep;
    private bool isMoving;
    private int position;

    public BandListen(int sampleRate, int stepFrames, int fadeFrames)
    {
        this.stepFrames = stepFrames;
        this.sampleRate = sampleRate;
        slopes = new(sampleRate, stepFrames, fadeFrames);
        wholeEnergy = new(sampleRate, stepFrames);
        bandEnergy = new(sampleRate, stepFrames);
        makeUp = new((double)stepFrames / sampleRate, stepFrames);
        band = new(stepFrames);
        wholeDelay = new(LatencyFrames);
        bandDelay = new(LatencyFrames);
    }

    /// <summary>Frames between input and output.</summary>
    public int LatencyFrames => BandMakeUp.DelaySteps * stepFrames;

    /// <summary>What the make-up now adds to the band, in decibels, heard or not.</summary>
    public double MakeUpDb => Decibels.FromAmplitude(makeUp.At(1));

    /// <summary>State as if from silence, with these settings at once.</summary>
    public void Reset(MonitorTargets targets)
    {
        centre.Jump(targets.BandCentre);
        width.Jump(targets.BandWidth);
        share.Jump(targets.BandShare);
        isSteep = targets.IsBandSteep;
        isMoving = false;
        position = 0;
        BandEdges edges = Edges();
        slopes.Jump(edges, isSteep);
        makeUp.SetLowerEdge(edges.LowerHz);
        wholeEnergy.Reset();
        bandEnergy.Reset();
        makeUp.Reset();
        wholeDelay.Reset();
        bandDelay.Reset();
    }

    /// <summary>Sets off for other settings.</summary>
    /// <param name="targets">The settings.</param>
    /// <param name="switchFrames">Frames that switching takes.</param>
    /// <param name="moveFrames">Frames that moving the band takes.</param>
    public void MoveTo(MonitorTargets targets, int switchFrames, int moveFrames)
    {
        centre.MoveTo(targets.BandCentre, moveFrames);
        width.MoveTo(targets.BandWidth, moveFrames);
        share.MoveTo(targets.BandShare, switchFrames);
        isSteep = targets.IsBandSteep;
    }

    /// <summary>Begins a control step.</summary>
    public void StartStep()
    {
        isMoving = centre.IsMoving || width.IsMoving;
        centre.Advance(stepFrames);
        width.Advance(stepFrames);
        BandEdges edges = Edges();
        slopes.StartStep(edges, isSteep);
        makeUp.SetLowerEdge(edges.LowerHz);
        position = 0;
    }

    /// <summary>Runs a part of a control step, in place.</summary>
    public void Process(Span<float> left, Span<float> right)
    {
        Span<float> bandLeft = band.Left.AsSpan(0, left.Length);
        Span<float> bandRight = band.Right.AsSpan(0, left.Length);
        left.CopyTo(bandLeft);
        right.CopyTo(bandRight);
        slopes.Process(bandLeft, bandRight);
        wholeEnergy.Add(left, right);
        bandEnergy.Add(bandLeft, bandRight);
        wholeDelay.Process(left, right);
        bandDelay.Process(bandLeft, bandRight);
        if (share.IsMoving || share.Target != 0)
        {
            Blend(left, right, bandLeft, bandRight);
        }

        position += left.Length;
    }

    /// <summary>Ends a control step.</summary>
    public void EndStep()
    {
        slopes.EndStep();
        makeUp.EndStep(wholeEnergy.Take(), bandEnergy.Take(), isMoving);
    }

    private void Blend(Span<float> left, Span<float> right, ReadOnlySpan<float> bandLeft, ReadOnlySpan<float> bandRight)
    {
        double placePerFrame = 1.0 / stepFrames;
        for (int i = 0; i < left.Length; i++)
        {
            double ofBand = share.Advance(1);
            double ofWhole = 1 - ofBand;
            ofBand *= makeUp.At((position + i + 1) * placePerFrame);
            left[i] = (float)(ofWhole * left[i] + ofBand * bandLeft[i]);
            right[i] = (float)(ofWhole * right[i] + ofBand * bandRight[i]);
        }
    }

    private BandEdges Edges() => BandEdges.Around(centre.Value, width.Value, sampleRate);
}
