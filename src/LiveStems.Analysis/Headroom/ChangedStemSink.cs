using LiveStems.Analysis.Caching;
using LiveStems.Engine.Offline;

namespace LiveStems.Analysis.Headroom;

/// <summary>
/// Takes one stem as it is rendered and tries the bus with the song's sum in which that stem has replaced what it was:
/// sum + (new − old).
/// </summary>
/// <param name="trial">Runs the bus.</param>
/// <param name="sum">The sum of all stems.</param>
/// <param name="old">What the stem adds to it.</param>
/// <param name="keys">The stems that the bus listens to, by name.</param>
internal sealed class ChangedStemSink(BusTrial trial, StoredSound sum, StoredSound? old, IReadOnlyDictionary<string, StoredSound> keys) : IRenderSink
{
    private readonly float[] left = new float[BusTrial.BlockFrames];
    private readonly float[] right = new float[BusTrial.BlockFrames];
    private long position;

    /// <summary>Takes the stem's next frames.</summary>
    public void Write(ReadOnlySpan<float> newLeft, ReadOnlySpan<float> newRight)
    {
        for (int done = 0; done < newLeft.Length; done += BusTrial.BlockFrames)
        {
            int frames = Math.Min(BusTrial.BlockFrames, newLeft.Length - done);
            Run(newLeft.Slice(done, frames), newRight.Slice(done, frames));
        }
    }

    /// <summary>Goes on in silence to the end of the sum, and gives the figures.</summary>
    public HeadroomFigures Finish()
    {
        float[] silence = new float[BusTrial.BlockFrames];
        while (position < sum.Frames)
        {
            int frames = (int)Math.Min(BusTrial.BlockFrames, sum.Frames - position);
            Run(silence.AsSpan(0, frames), silence.AsSpan(0, frames));
        }

        return trial.Finish();
    }

    private void Run(ReadOnlySpan<float> newLeft, ReadOnlySpan<float> newRight)
    {
        int frames = newLeft.Length;
        sum.Read(frames);
        old?.Read(frames);
        for (int i = 0; i < frames; i++)
        {
            left[i] = sum.Left[i] + (newLeft[i] - (old is null ? 0 : old.Left[i]));
            right[i] = sum.Right[i] + (newRight[i] - (old is null ? 0 : old.Right[i]));
        }

        foreach ((string name, StoredSound key) in keys)
        {
            key.Read(frames);
            trial.SetKey(name, key.Left.AsSpan(0, frames), key.Right.AsSpan(0, frames));
        }

        trial.Add(left.AsSpan(0, frames), right.AsSpan(0, frames));
        position += frames;
    }
}
