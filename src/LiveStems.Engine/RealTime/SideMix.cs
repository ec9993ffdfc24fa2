using LiveStems.Engine.Monitor;

namespace LiveStems.Engine.RealTime;

/// <summary>
/// What is heard of two sides that run side by side, and the measure of both. Whichever side is heard, the same work is
/// done, so that neither time nor load tells them apart.
/// </summary>
/// <remarks>
/// heard = a · in + b · out + d · (out − in), in double precision. A switch takes 10 ms on a curve without a corner and
/// begins with the block after it was asked for; a change of the fair gains takes 200 ms. A side that is heard alone at a
/// gain of 1 passes bit for bit.
/// </remarks>
internal sealed class SideMix
{
    private const double GainSeconds = 0.2;

    // Quieter than the absolute gate of BS.1770-5, about −70 LUFS, on both sides: no music.
    private const double Silence = 1e-7;

    private readonly int fadeFrames;
    private readonly int gainFrames;
    private readonly int stepFrames;
    private readonly KWeightedEnergy inEnergy;
    private readonly KWeightedEnergy outEnergy;
    private readonly StereoBuffer heard;
    private SideTargets posted;
    private SideTargets targets;
    private Glide inShare;
    private Glide outShare;
    private Glide differenceShare;
    private Glide inGain;
    private Glide outGain;
    private int position;

    /// <param name="sampleRate">Frames per second.</param>
    /// <param name="maximumFrames">The longest block.</param>
    /// <param name="start">What is heard at once.</param>
    public SideMix(int sampleRate, int maximumFrames, SideTargets start)
    {
        fadeFrames = PlanTiming.RampFrames(sampleRate);
        gainFrames = (int)(GainSeconds * sampleRate);
        stepFrames = sampleRate / LoudnessLog.StepsPerSecond;
        inEnergy = new(sampleRate, maximumFrames);
        outEnergy = new(sampleRate, maximumFrames);
        heard = new(maximumFrames);
        posted = targets = start;
        Jump();
    }

    /// <summary>Loudness of both sides as it runs.</summary>
    public LoudnessLog Log { get; } = new();

    /// <summary>Control thread: asks for something else to be heard; of several the last one counts.</summary>
    public void Post(SideTargets wanted) => Volatile.Write(ref posted, wanted);

    /// <summary>Audio thread: mixes and measures the next frames.</summary>
    public StereoBuffer Run(StereoBuffer inSide, StereoBuffer outSide, int frames)
    {
        Receive();
        Mix(inSide, outSide, frames);
        int done = 0;
        while (done < frames)
        {
            int run = Math.Min(frames - done, stepFrames - position);
            inEnergy.Add(inSide.Left.AsSpan(done, run), inSide.Right.AsSpan(done, run));
            outEnergy.Add(outSide.Left.AsSpan(done, run), outSide.Right.AsSpan(done, run));
            done += run;
            position += run;
            if (position == stepFrames)
            {
                EndStep();
            }
        }

        return heard;
    }

    private void Jump()
    {
        inShare.Jump(targets.InShare);
        outShare.Jump(targets.OutShare);
        differenceShare.Jump(targets.DifferenceShare);
        inGain.Jump(targets.InGain);
        outGain.Jump(targets.OutGain);
    }

    private void Receive()
    {
        SideTargets wanted = Volatile.Read(ref posted);
        if (ReferenceEquals(wanted, targets))
        {
            return;
        }

        targets = wanted;
        inShare.MoveTo(wanted.InShare, fadeFrames);
        outShare.MoveTo(wanted.OutShare, fadeFrames);
        differenceShare.MoveTo(wanted.DifferenceShare, fadeFrames);
        inGain.MoveTo(wanted.InGain, gainFrames);
        outGain.MoveTo(wanted.OutGain, gainFrames);
    }

    private void Mix(StereoBuffer inSide, StereoBuffer outSide, int frames)
    {
        ReadOnlySpan<float> inLeft = inSide.Left.AsSpan(0, frames);
        ReadOnlySpan<float> inRight = inSide.Right.AsSpan(0, frames);
        ReadOnlySpan<float> outLeft = outSide.Left.AsSpan(0, frames);
        ReadOnlySpan<float> outRight = outSide.Right.AsSpan(0, frames);
        Span<float> left = heard.Left.AsSpan(0, frames);
        Span<float> right = heard.Right.AsSpan(0, frames);
        bool isMoving = inShare.IsMoving || outShare.IsMoving || differenceShare.IsMoving || inGain.IsMoving || outGain.IsMoving;
        double a = inShare.Value * inGain.Value;
        double b = outShare.Value * outGain.Value;
        double d = differenceShare.Value * outGain.Value;
        for (int i = 0; i < frames; i++)
        {
            if (isMoving)
            {
                double outNow = outGain.Advance(1);
                a = inShare.Advance(1) * inGain.Advance(1);
                b = outShare.Advance(1) * outNow;
                d = differenceShare.Advance(1) * outNow;
            }

            left[i] = (float)(a * inLeft[i] + b * outLeft[i] + d * ((double)outLeft[i] - inLeft[i]));
            right[i] = (float)(a * inRight[i] + b * outRight[i] + d * ((double)outRight[i] - inRight[i]));
        }
    }

    private void EndStep()
    {
        position = 0;
        double inMean = inEnergy.Take() / stepFrames;
        double outMean = outEnergy.Take() / stepFrames;
        if (inMean > Silence || outMean > Silence)
        {
            Log.Add(inMean, outMean);
        }
    }
}
