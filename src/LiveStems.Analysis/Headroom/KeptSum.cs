using LiveStems.Analysis.Caching;
using LiveStems.Dsp.Simd;
using LiveStems.Engine.Offline;

namespace LiveStems.Analysis.Headroom;

/// <summary>
/// The sum of a song that an account before has kept, in which stems that have changed since are exchanged: two or three
/// files are read in place of every stem.
/// </summary>
/// <remarks>
/// Stems that had changed before this account are exchanged by their kept renders, and the sum is kept anew with them. The
/// stem that has changed now is only taken out; its sound is added by whoever renders it. So nothing but what is kept ever
/// gets into a sum in exchange, and what is taken out later is what was put in.
/// </remarks>
internal sealed class KeptSum : IDisposable
{
    // From here on reading every stem is hardly more.
    private const int MostExchanged = 4;

    private readonly List<StoredSound> opened = [];
    private readonly StoredSound nearest;
    private readonly StoredSound rest;
    private readonly StoredSound bare;
    private readonly StoredSound[] before;
    private readonly StoredSound[] after;
    private readonly StoredSound[] leaving;
    private readonly SumWriter? writer;

    private KeptSum(RenderStore store, string[] sums, string[] beforePaths, string[] afterPaths, string[] leavingPaths, string[] stems, int[] missing, int sampleRate)
    {
        Stems = stems;
        Missing = missing;
        try
        {
            nearest = Open(sums[0]);
            rest = Open(sums[1]);
            bare = Open(sums[2]);
            before = [.. beforePaths.Select(Open)];
            after = [.. afterPaths.Select(Open)];
            leaving = [.. leavingPaths.Select(Open)];
            writer = after.Length > 0 ? new SumWriter(store, Stems, sampleRate, isExact: true) : null;
        }
        catch
        {
            opened.ForEach(sound => sound.Dispose());
            throw;
        }
    }

    /// <summary>Digests of the stems in the sum as it is kept from now on, in the order of the song.</summary>
    public IReadOnlyList<string> Stems { get; }

    /// <summary>The sum for the last block, without the stems that are rendered because they have changed.</summary>
    public StereoSum Sum { get; } = new(StemStates.MaximumFrames);

    /// <summary>The sum without corrections for the last block.</summary>
    public PlanarStereo Bare => new(bare.Left, bare.Right);

    /// <summary>Indices of the stems that are not in the sum of a block, because they are rendered and have changed.</summary>
    public IReadOnlyList<int> Missing { get; }

    /// <summary>Opens what is kept; null when it does not serve.</summary>
    /// <param name="store">Where it is kept.</param>
    /// <param name="stemsBefore">Digests of the stems in the kept sum, in the order of the song.</param>
    /// <param name="book">Knows the digests of the stems now.</param>
    /// <param name="rendered">Indices of the stems that are rendered.</param>
    /// <param name="sampleRate">Frames per second.</param>
    public static KeptSum? Find(RenderStore store, IReadOnlyList<string> stemsBefore, TrialBook book, IReadOnlyCollection<int> rendered, int sampleRate)
    {
        IReadOnlyList<string> now = book.StemsIn;
        if (stemsBefore.Count != now.Count || rendered.Count == now.Count)
        {
            return null;
        }

        int[] changed = [.. now.Index().Where(stem => stem.Item != stemsBefore[stem.Index]).Select(stem => stem.Index)];
        int[] missing = [.. changed.Where(stem => rendered.Contains(stem))];
        int[] exchanged = [.. changed.Except(missing)];
        string?[] sums = [store.FindWhole(SumWriter.NameOf(stemsBefore)), store.FindWhole(SumWriter.NameOfRest(stemsBefore)), store.FindWhole(SumWriter.NameOf(book.StemsBare))];
        string?[] before = [.. exchanged.Select(stem => store.FindWhole(stemsBefore[stem]))];
        string?[] after = [.. exchanged.Select(stem => store.FindWhole(now[stem]))];
        string?[] leaving = [.. missing.Select(stem => store.FindWhole(stemsBefore[stem]))];
        string[] stems = [.. stemsBefore.Select((stem, index) => exchanged.Contains(index) ? now[index] : stem)];
        return changed.Length > MostExchanged || sums.Concat(before).Concat(after).Concat(leaving).Contains(null) ? null
            : new KeptSum(store, [.. sums.OfType<string>()], [.. before.OfType<string>()], [.. after.OfType<string>()], [.. leaving.OfType<string>()], stems, missing, sampleRate);
    }

    /// <summary>Makes the next frames.</summary>
    public void Run(int frames)
    {
        foreach (StoredSound sound in opened)
        {
            sound.Read(frames);
        }

        Sum.Clear(frames);
        Add([nearest, rest, .. after], frames);
        Subtract(before, frames);
        writer?.Write(Sum, frames);
        Subtract(leaving, frames);
    }

    /// <summary>Keeps the sum, if stems had to be exchanged in it.</summary>
    public void Complete() => writer?.Complete();

    /// <summary>Closes the files.</summary>
    public void Dispose()
    {
        opened.ForEach(sound => sound.Dispose());
        writer?.Dispose();
    }

    private StoredSound Open(string path)
    {
        StoredSound sound = new(path, StemStates.MaximumFrames);
        opened.Add(sound);
        return sound;
    }

    private void Add(ReadOnlySpan<StoredSound> sounds, int frames)
    {
        foreach (StoredSound sound in sounds)
        {
            Sum.Add(new PlanarStereo(sound.Left, sound.Right), frames);
        }
    }

    private void Subtract(ReadOnlySpan<StoredSound> sounds, int frames)
    {
        foreach (StoredSound sound in sounds)
        {
            Sum.Subtract(new PlanarStereo(sound.Left, sound.Right), frames);
        }
    }
}
