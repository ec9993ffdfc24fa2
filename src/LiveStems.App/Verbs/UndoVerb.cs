using System.CommandLine;
using System.Text.Json.Nodes;
using LiveStems.Albums.Storage;
using LiveStems.App.Terminal;

namespace LiveStems.App.Verbs;

/// <summary><c>undo</c> and <c>redo</c>: steps taken back and done again, those of earlier runs too.</summary>
internal static class UndoVerb
{
    private const int ListedSteps = 20;

    /// <summary>The verb <c>undo</c>.</summary>
    public static Command CreateUndo() => Create(
        "undo",
        "Takes the latest changes of an album back, whether made by command or in the window.",
        "nothing to undo",
        session => session.UndoWords,
        session => session.Undo());

    /// <summary>The verb <c>redo</c>.</summary>
    public static Command CreateRedo() => Create(
        "redo",
        "Does again what was taken back.",
        "nothing to redo",
        session => session.RedoWords,
        session => session.Redo());

    private static Command Create(string name, string purpose, string nothing, Func<AlbumSession, string?> words, Func<AlbumSession, bool> step)
    {
        Argument<string> album = CommonOptions.Album();
        Option<int> steps = new("--steps") { Description = "How many, from 1.", DefaultValueFactory = _ => 1 };
        Option<bool> list = new("--list") { Description = "Only says what led here, the latest first." };
        Option<bool> json = CommonOptions.Json();
        Command verb = new(name, purpose) { album, steps, json };
        verb.AddExamples($"livestems {name} Album", $"livestems {name} Album --steps 3");
        if (name == "undo")
        {
            verb.Add(list);
        }

        verb.SetAction(parsed =>
        {
            int count = parsed.GetValue(steps);
            if (count < 1)
            {
                throw new UsageException($"--steps takes a number from 1, not {count}");
            }

            TextWriter output = parsed.InvocationConfiguration.Output;
            using AlbumSession session = AlbumSession.Open(parsed.GetRequiredValue(album), Processors.Catalogue);
            if (session.Remark is { } remark)
            {
                parsed.InvocationConfiguration.Error.WriteLine($"livestems: {remark}");
            }

            if (name == "undo" && parsed.GetValue(list))
            {
                Tell(output, session.Words.Take(parsed.GetValue(json) ? int.MaxValue : ListedSteps), parsed.GetValue(json), "nothing was done yet");
                return 0;
            }

            List<string> done = [];
            while (done.Count < count && words(session) is { } said && step(session))
            {
                done.Add($"{name}: {said}");
            }

            session.Flush();
            Tell(output, done, parsed.GetValue(json), nothing);
            return 0;
        });
        return verb;
    }

    private static void Tell(TextWriter output, IEnumerable<string> lines, bool asJson, string nothing)
    {
        if (asJson)
        {
            JsonOutput.Write(output, JsonOutput.Array(lines.Select(line => JsonValue.Create(line))));
            return;
        }

        bool any = false;
        foreach (string line in lines)
        {
            any = true;
            output.WriteLine(line);
        }

        if (!any)
        {
            output.WriteLine(nothing);
        }
    }
}
