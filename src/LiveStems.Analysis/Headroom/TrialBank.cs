using LiveStems.Dsp.Loudness;
using LiveStems.Dsp.Simd;
using LiveStems.Engine.Offline;
using LiveStems.Processing.Catalogue;
using LiveStems.Processing.Contract;

namespace LiveStems.Analysis.Headroom;

/// <summary>Where the sound of a trial comes from: the sum of all stems, in which one stem has replaced what it was.</summary>
/// <param name="Sum">The sum.</param>
/// <param name="Old">What the stem is in it.</param>
/// <param name="New">What it becomes; the same memory as <paramref name="Old"/> for no change.</param>
internal readonly record struct TrialSound(PlanarStereo Sum, PlanarStereo Old, PlanarStereo New)
{
    /// <summary>True when a stem is replaced.</summary>
    public bool HasChange => !ReferenceEquals(Old.Left, New.Left);
}

/// <summary>
/// Runs the song bus of several trials side by side and writes down what reaches their limiters and what these do.
/// </summary>
internal sealed class TrialBank
{
    /// <summary>Trials that fill the lanes of the widest vectors.</summary>
    public const int MostTrials = 8;

    // Short enough that the sounds of all trials stay in the nearest cache.
    private const int BlockFrames = 512;

    private readonly Trial[] trials;
    private readonly TrialSound[][] sounds;
    private readonly ChainBank buses;
    private readonly LimiterTrial[] limiters;
    private readonly LimiterTrial[][] driven;
    private readonly TruePeakMeter[] peaks;
    private readonly IRenderSink?[] copies;
    private readonly int[] toSkip;

    /// <param name="trials">The trials, at most <see cref="MostTrials"/>.</param>
    /// <param name="sounds">Where their sounds come from, for each side of memory.</param>
    /// <param name="copies">Take what reaches their limiters, aligned with the input; null where nobody asks.</param>
    /// <param name="catalogue">Where processors come from.</param>
    /// <param name="sampleRate">Frames per second.</param>
    /// <param name="songFrames">Frames to the end of the longest stem.</param>
    public TrialBank(
        IReadOnlyList<Trial> trials, IReadOnlyList<TrialSound[]> sounds, IReadOnlyList<IRenderSink?> copies, ProcessorCatalogue catalogue, int sampleRate, long songFrames)
    {
        this.trials = [.. trials];
        this.sounds = [.. sounds];
        this.copies = [.. copies];
        buses = new ChainBank(
            [.. trials.Select(trial => trial.Bus with { Slots = trial.Bus.Slots[..^1] })], catalogue, new ProcessingFormat(sampleRate, BlockFrames));
        limiters = [.. trials.Select(trial => new LimiterTrial(trial.Bus.Slots[^1], 0, catalogue, sampleRate, songFrames))];
        driven = [.. trials.Select(trial => trial.Drives.Select(step =>
            new LimiterTrial(trial.Bus.Slots[^1], step * DriveCurve.StepDb, catalogue, sampleRate, songFrames)).ToArray())];
        peaks = [.. trials.Select(_ => new TruePeakMeter())];
        toSkip = [.. trials.Select((_, index) => buses.LatencyFrames(index))];
    }

    /// <summary>Names of the stems that the buses listen to.</summary>
    public IReadOnlyCollection<string> Keys => buses.Keys;

    /// <summary>Takes the next frames of every sound.</summary>
    /// <param name="frames">How many.</param>
    /// <param name="side">The side of memory they lie in.</param>
    /// <param name="keys">The sounds of the stems that are listened to, there.</param>
    public void Run(int frames, int side, IReadOnlyDictionary<string, PlanarStereo> keys)
    {
        for (int done = 0; done < frames; done += BlockFrames)
        {
            int count = Math.Min(BlockFrames, frames - done);
            for (int i = 0; i < trials.Length; i++)
            {
                Bring(sounds[i][side], buses.Sound(i), done, count);
            }

            foreach (string key in buses.Keys)
            {
                buses.SetKey(key, keys[key].Left.AsSpan(done, count), keys[key].Right.AsSpan(done, count));
            }

            Process(count);
        }
    }

    /// <summary>Runs out what is under way and gives the figures of every trial, and the points of its drive curve.</summary>
    public IEnumerable<(Trial Trial, HeadroomFigures Figures, IReadOnlyDictionary<int, HeadroomFigures> Points)> Finish()
    {
        int latest = trials.Select((_, index) => buses.LatencyFrames(index)).Max();
        for (int left = latest; left > 0; left -= BlockFrames)
        {
            for (int i = 0; i < trials.Length; i++)
            {
                buses.Sound(i).Left.AsSpan().Clear();
                buses.Sound(i).Right.AsSpan().Clear();
            }

            Process(Math.Min(left, BlockFrames));
        }

        for (int i = 0; i < trials.Length; i++)
        {
            peaks[i].Finish();
            Dictionary<int, HeadroomFigures> points = trials[i].Drives.Zip(driven[i]).ToDictionary(pair => pair.First, pair => pair.Second.Finish());
            yield return (trials[i], limiters[i].Finish() with { SamplePeakDbfs = peaks[i].SamplePeakDbfs, TruePeakDbtp = peaks[i].TruePeakDbtp }, points);
        }
    }

    private static void Bring(in TrialSound sound, in PlanarStereo bus, int start, int count)
    {
        Span<float> left = bus.Left.AsSpan(0, count);
        Span<float> right = bus.Right.AsSpan(0, count);
        sound.Sum.Left.AsSpan(start, count).CopyTo(left);
        sound.Sum.Right.AsSpan(start, count).CopyTo(right);
        if (sound.HasChange)
        {
            Planar.AddDifference(sound.New.Left.AsSpan(start, count), sound.Old.Left.AsSpan(start, count), left);
            Planar.AddDifference(sound.New.Right.AsSpan(start, count), sound.Old.Right.AsSpan(start, count), right);
        }
    }

    private void Process(int frames)
    {
        buses.Process(frames);
        for (int i = 0; i < trials.Length; i++)
        {
            int skipped = Math.Min(toSkip[i], frames);
            toSkip[i] -= skipped;
            ReadOnlySpan<float> left = buses.Sound(i).Left.AsSpan(skipped, frames - skipped);
            ReadOnlySpan<float> right = buses.Sound(i).Right.AsSpan(skipped, frames - skipped);
            copies[i]?.Write(left, right);
            peaks[i].Add(left, right);
            limiters[i].Add(left, right);
            foreach (LimiterTrial harder in driven[i])
            {
                harder.Add(left, right);
            }
        }
    }
}
