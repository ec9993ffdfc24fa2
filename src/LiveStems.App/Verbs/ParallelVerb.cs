using System.CommandLine;
using System.Text.Json.Nodes;
using LiveStems.Albums.Editing;
using LiveStems.Albums.History;
using LiveStems.Albums.Model;
using LiveStems.Albums.Storage;
using LiveStems.Analysis.Parallels;
using LiveStems.App.Terminal;
using LiveStems.Engine.Comparing;
using Parallel = LiveStems.Albums.Model.Parallel;

namespace LiveStems.App.Verbs;

/// <summary><c>parallel</c>: checks a parallel against its stem, aligns it, and blends it to a target.</summary>
internal static class ParallelVerb
{
    private static readonly string[] Feeds = ["before", "after"];
    private static readonly string[] Equalisers = ["linked", "copied", "none"];

    /// <summary>The verb.</summary>
    public static Command Create(CancellationToken interruption)
    {
        Argument<string> album = CommonOptions.Album();
        Option<string?> song = CommonOptions.Song();
        Option<string> stem = new("--stem") { Description = "The stem, by name, number or beginning.", Required = true };
        Option<string?> parallel = new("--parallel") { Description = "Its parallel; may be left out when there is one only." };
        Option<string?> feed = new("--feed") { Description = "What feeds it: the stem before its chain, or after." };
        feed.CompletionSources.Add(Feeds);
        Option<string?> equaliser = new("--equaliser") { Description = "The stem's equalisers in a parallel fed before the chain: linked (they follow the stem's), copied (a copy to be changed), none." };
        equaliser.CompletionSources.Add(Equalisers);
        Option<bool> turnOver = new("--turn-over") { Description = "Turns its polarity over, or back." };
        Option<bool> align = new("--align") { Description = "Sets its fine alignment, by correlation with the dry stem." };
        Option<double?> onset = new("--onset") { Description = "Blends it so that the onsets of hits stand so many dB higher in the whole song, once that is no louder than without." };
        Option<double?> from = new("--from") { Description = "Start of the stretch whose hits count, in seconds; without it the 30 s with the most." };
        Option<double?> to = new("--to") { Description = "Its end, at most 60 s later." };
        Option<bool> hits = new("--hits") { Description = "Also measures what it does to hits, in the stem and in the song." };
        Option<bool> json = CommonOptions.Json();
        Command verb = new("parallel", "Checks a parallel for time, polarity and cancellation; aligns it; blends it to a target.")
        {
            album, song, stem, parallel, feed, equaliser, turnOver, align, onset, hits, from, to, json,
        };
        verb.AddExamples(
            "livestems parallel Album --song 1 --stem Drums",
            "livestems parallel Album --song 1 --stem Drums --parallel Crush --align",
            "livestems parallel Album --song 1 --stem Drums --onset 0.5");
        verb.SetAction(parsed =>
        {
            string path = parsed.GetRequiredValue(album);
            string folder = AlbumFile.FolderOf(path);
            bool isChange = parsed.GetValue(feed) is not null || parsed.GetValue(equaliser) is not null || parsed.GetValue(turnOver) || parsed.GetValue(align) || parsed.GetValue(onset) is not null;
            using AlbumSession? session = isChange ? AlbumSession.Open(path, Processors.Catalogue) : null;
            Album before = session?.Album ?? AlbumFile.Load(path, Processors.Catalogue);
            int songIndex = SongChoice.From(before, parsed.GetValue(song) ?? "1")[0];
            int stemIndex = AlbumAddress.StemIndex(before.Songs[songIndex], parsed.GetRequiredValue(stem));
            ParallelPlace place = new(songIndex, stemIndex, Index(before.Songs[songIndex].Stems[stemIndex], parsed.GetValue(parallel)));
            Album after = Feed(before, place, parsed.GetValue(feed));
            after = Equaliser(after, place, parsed.GetValue(equaliser));
            after = parsed.GetValue(turnOver) ? ParallelEdits.TurnOver(after, place, Processors.Catalogue) : after;

            using ProgressLine line = new();
            InlineProgress<double> Doing(string what) => new(share => line.Report(what, share));
            ParallelCheckReport Check(Album state) => ParallelCheck.Measure(
                place.Song(state), place.Stem(state).Name, place.Parallel(state).Name, folder, Processors.Catalogue, Doing("checking the parallel"), interruption);
            ParallelCheckReport check = Check(after);
            if (parsed.GetValue(align) && check.BestAlignSamples != check.AlignSamples)
            {
                after = Align(after, place, check);
                check = Check(after);
            }

            BlendReport? blend = null;
            if (parsed.GetValue(onset) is { } wanted)
            {
                blend = ParallelBlend.Meet(
                    wanted, place.Song(after), place.Stem(after).Name, place.Parallel(after).Name, folder, Processors.Catalogue, parsed.GetValue(from), parsed.GetValue(to), Doing("finding the blend"), interruption);
                after = place.With(after, each => each with { BlendDb = blend.BlendDb, Muted = false });
                check = Check(after);
            }
            else if (parsed.GetValue(hits))
            {
                blend = ParallelBlend.Measure(
                    place.Song(after), place.Stem(after).Name, place.Parallel(after).Name, folder, Processors.Catalogue, parsed.GetValue(from), parsed.GetValue(to), Doing("measuring hits"), interruption);
            }

            line.Dispose();
            IReadOnlyList<AlbumChange> changes = AlbumDifference.Between(before, after, Processors.Catalogue);
            session?.Do(after);
            session?.Flush();

            TextWriter output = parsed.InvocationConfiguration.Output;
            if (parsed.GetValue(json))
            {
                JsonOutput.Write(output, ParallelText.ToJson(check, blend, changes));
            }
            else
            {
                ParallelText.Write(output, check, blend, changes);
            }

            return check.Losses.Any() || check.IsTurnedOver ? 1 : 0;
        });
        return verb;
    }

    private static int Index(Stem stem, string? name)
    {
        if (name is null)
        {
            return stem.Parallels.Length switch
            {
                1 => 0,
                0 => throw new ComparisonException($"'{stem.Name}' has no parallel; 'livestems set ALBUM --add-parallel SONG/STEM=NAME' adds one"),
                _ => throw new UsageException($"'{stem.Name}' has several parallels; choose by --parallel: {string.Join(", ", stem.Parallels.Select(each => each.Name))}"),
            };
        }

        return stem.Parallels.IndexOf(ScopeText.ParallelOf(stem, name));
    }

    private static Album Feed(Album album, ParallelPlace place, string? feed) => feed switch
    {
        null => album,
        "before" or "after" => place.With(album, parallel => parallel with { AfterChain = feed == "after" }),
        _ => throw new UsageException($"--feed is before or after, not '{feed}'"),
    };

    private static Album Equaliser(Album album, ParallelPlace place, string? how)
    {
        if (how is null)
        {
            return album;
        }

        if (how != "none" && place.Parallel(album).AfterChain)
        {
            throw new UsageException("a parallel fed after the chain has the stem's equalisers already; use --feed before");
        }

        return how switch
        {
            "linked" => place.With(album, parallel => parallel with { IsEqualiserLinked = true }),
            "none" => place.With(album, parallel => parallel with { IsEqualiserLinked = false }),
            "copied" => ParallelEdits.CopyEqualisers(album, place),
            _ => throw new UsageException($"--equaliser is linked, copied or none, not '{how}'"),
        };
    }

    private static Album Align(Album album, ParallelPlace place, ParallelCheckReport check)
    {
        double wanted = check.BestAlignSamples;
        return AlbumFields.AlignSamples.Contains(wanted) && check.IsAlike
            ? place.With(album, parallel => parallel with { AlignSamples = wanted })
            : throw new ComparisonException(
                $"'{check.Stem}, {check.Parallel}' cannot be aligned: it is too unlike the dry stem (correlation {Numbers.Text(check.Delay?.Correlation ?? 0, 2)}); its latency is made up for anyway");
    }
}
