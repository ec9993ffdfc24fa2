using System.Collections.Concurrent;
using LiveStems.App.Demo;
using LiveStems.App.Demo.Score;
using LiveStems.Processing.Contract;

namespace LiveStems.Tests.App.Demo;

/// <summary>Single stems of the demo album, each rendered once when first asked for, and what chains make of them.</summary>
internal static class DemoStems
{
    public const int Lamps = 0;
    public const int Rope = 1;
    public const int Dredger = 2;

    private static readonly ConcurrentDictionary<(int Song, string Stem), StemSound> Rendered = new();

    public static SongForm Form(int song) => DemoAlbum.Songs[song].Form;

    public static StemSound Get(int song, string stem) => Rendered.GetOrAdd(
        (song, stem), key => new StemSound(DemoAlbum.Songs[key.Song].Stems.First(candidate => candidate.Name == key.Stem).Render(), DemoAlbum.Songs[key.Song].SampleRate));

    /// <summary>A stem through processors, moved back by their latency.</summary>
    public static StemSound Through(StemSound stem, IEnumerable<Processor> chain)
    {
        float[] left = [.. stem.Left], right = [.. stem.Right];
        foreach (Processor processor in chain)
        {
            processor.Prepare(new ProcessingFormat(stem.SampleRate, 4096));
            int latency = processor.LatencyFrames;
            Array.Resize(ref left, left.Length + latency);
            Array.Resize(ref right, right.Length + latency);
            for (int start = 0; start < left.Length; start += 4096)
            {
                int frames = Math.Min(4096, left.Length - start);
                processor.Process(new StereoBlock(left.AsSpan(start, frames), right.AsSpan(start, frames)));
            }

            (left, right) = (left[latency..], right[latency..]);
        }

        return new StemSound([left, right], stem.SampleRate);
    }
}
