using System.CommandLine;
using LiveStems.Albums.History;
using LiveStems.Albums.Model;
using LiveStems.Albums.Storage;
using LiveStems.App.Terminal;

namespace LiveStems.App.Verbs;

/// <summary><c>diff</c>: two versions of an album compared in words.</summary>
internal static class DiffVerb
{
    /// <summary>The verb.</summary>
    public static Command Create(CancellationToken interruption)
    {
        Argument<string> album = CommonOptions.Album();
        Argument<string?> first = new("version") { Description = "A version by name or by the path of its file, or 'now'.", Arity = ArgumentArity.ZeroOrOne };
        Argument<string> second = new("other") { Description = "The version to compare it with; the album as it is when not given.", DefaultValueFactory = _ => AlbumVersions.Now };
        Option<int[]> deliveries = new("--deliveries") { Description = "Two deliveries by their numbers instead: what was set otherwise, and what is measurably other in every master.", AllowMultipleArgumentsPerToken = true };
        Option<string?> within = new("--in") { Description = "With --deliveries: the folder they stand in, where several have these numbers or they were moved." };
        Option<bool> json = CommonOptions.Json();
        Command verb = new("diff", "Says in words what is other in one version of an album than in another.") { album, first, second, deliveries, within, json };
        verb.AddExamples(
            "livestems diff Album \"first listen\"",
            "livestems diff Album \"first listen\" \"softer voice\" --json",
            "livestems diff Album --deliveries 1 2");
        verb.SetAction(parsed =>
        {
            string path = parsed.GetRequiredValue(album);
            if (parsed.GetValue(deliveries) is { Length: > 0 } numbers)
            {
                if (numbers.Length != 2 || parsed.GetValue(first) is not null)
                {
                    throw new UsageException("--deliveries takes two numbers and no version, such as --deliveries 1 2");
                }

                DeliveryDiff.Run(parsed.InvocationConfiguration.Output, path, numbers[0], numbers[1], parsed.GetValue(within), parsed.GetValue(json), interruption);
                return 0;
            }

            string wanted = parsed.GetValue(first) ?? throw new UsageException("name a version to compare with, or two deliveries with --deliveries; 'livestems versions ALBUM' lists versions");
            Album now = AlbumFile.Load(path, Processors.Catalogue);
            AlbumVersion before = AlbumVersions.Find(now, wanted, path, Processors.Catalogue);
            AlbumVersion after = AlbumVersions.Find(now, parsed.GetRequiredValue(second), path, Processors.Catalogue);
            ChangeText.Write(
                parsed.InvocationConfiguration.Output,
                AlbumDifference.Between(before.Album, after.Album, Processors.Catalogue),
                parsed.GetValue(json),
                "no difference");
            return 0;
        });
        return verb;
    }
}
