using LiveStems.App.Demo;

namespace LiveStems.Tests.App.Demo;

/// <summary>All stems of a song, rendered once for the tests of a class.</summary>
public abstract class SongSound
{
    private readonly Dictionary<string, StemSound> stems = [];

    protected SongSound(int index)
    {
        Song = DemoAlbum.Songs[index];
        StemSound[] sounds = new StemSound[Song.Stems.Count];
        Parallel.For(0, sounds.Length, new ParallelOptions { MaxDegreeOfParallelism = 2 }, i =>
            sounds[i] = new StemSound(Song.Stems[i].Render(), Song.SampleRate));
        for (int i = 0; i < sounds.Length; i++)
        {
            stems.Add(Song.Stems[i].Name, sounds[i]);
        }
    }

    internal DemoSong Song { get; }

    internal IEnumerable<(DemoStem Stem, StemSound Sound)> Stems => Song.Stems.Select(stem => (stem, stems[stem.Name]));

    internal StemSound this[string stem] => stems[stem];

    /// <summary>Plain sum of all stems.</summary>
    internal StemSound Sum()
    {
        float[][] sum = [new float[Song.Frames], new float[Song.Frames]];
        foreach (StemSound stem in stems.Values)
        {
            for (int side = 0; side < 2; side++)
            {
                float[] channel = side == 0 ? stem.Left : stem.Right;
                for (int i = 0; i < channel.Length; i++)
                {
                    sum[side][i] += channel[i];
                }
            }
        }

        return new StemSound(sum, Song.SampleRate);
    }
}

public sealed class LampsSound() : SongSound(0);

public sealed class RopeSound() : SongSound(1);

public sealed class DredgerSound() : SongSound(2);
