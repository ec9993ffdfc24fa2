using LiveStems.Analysis.Caching;
using LiveStems.Dsp.Simd;
using LiveStems.Engine.Offline;
using LiveStems.Files.Writing;

namespace LiveStems.Analysis.Headroom;

/// <summary>
/// Keeps the sum of all stems of a song in two files: its nearest singles, and what these leave, so that a stem can be taken
/// away from it exactly (<see cref="ExactSum"/>).
/// </summary>
internal sealed class SumWriter : IDisposable
{
    private readonly WavWriter nearest;
    private readonly WavWriter? rest;
    private readonly PlanarStereo block = new(new float[StemStates.MaximumFrames], new float[StemStates.MaximumFrames]);

    /// <param name="store">Where it is kept.</param>
    /// <param name="stems">Digests of the stems in it.</param>
    /// <param name="sampleRate">Frames per second.</param>
    /// <param name="isExact">False to leave out the second file.</param>
    /// <exception cref="Files.AudioFileException">It can't be kept.</exception>
    public SumWriter(RenderStore store, IReadOnlyList<string> stems, int sampleRate, bool isExact)
    {
        nearest = store.Begin(NameOf(stems), sampleRate);
        try
        {
            rest = isExact ? store.Begin(NameOfRest(stems), sampleRate) : null;
        }
        catch
        {
            nearest.Dispose();
            throw;
        }
    }

    /// <summary>Name under which the nearest singles of a sum are kept, whatever the order of the stems.</summary>
    public static string NameOf(IEnumerable<string> stems) => SettingsDigest.Of("sum of " + string.Join(' ', stems.Order(StringComparer.Ordinal)));

    /// <summary>Name under which what they leave is kept.</summary>
    public static string NameOfRest(IEnumerable<string> stems) => SettingsDigest.Of("rest of " + NameOf(stems));

    /// <summary>Writes the next frames.</summary>
    public void Write(StereoSum sum, int frames)
    {
        sum.Round(block, frames);
        nearest.Write(block.Left.AsSpan(0, frames), block.Right.AsSpan(0, frames));
        if (rest is not null)
        {
            sum.Rest(block, frames);
            rest.Write(block.Left.AsSpan(0, frames), block.Right.AsSpan(0, frames));
        }
    }

    /// <summary>Keeps it.</summary>
    public void Complete()
    {
        rest?.Complete();
        nearest.Complete();
    }

    /// <summary>What was not completed is gone.</summary>
    public void Dispose()
    {
        nearest.Dispose();
        rest?.Dispose();
    }
}
