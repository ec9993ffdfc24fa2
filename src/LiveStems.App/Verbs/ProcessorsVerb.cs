using System.CommandLine;
using LiveStems.App.Terminal;
using LiveStems.Engine.Hosting;

namespace LiveStems.App.Verbs;

/// <summary><c>processors</c>: processors of others, what they ask for, whether they may run and where.</summary>
internal static class ProcessorsVerb
{
    /// <summary>The verb.</summary>
    public static Command Create(CancellationToken interruption)
    {
        Option<string?> trust = new("--trust") { Description = "Say yes to a file of the processors folder, or to the file with this processor's id. It is vetted first, in a process of its own." };
        Option<string?> refuse = new("--refuse") { Description = "Say no to a file, or to one processor by its id: the others of its file run on." };
        Option<string?> forget = new("--forget") { Description = "Take back whatever you have said about it: it asks anew, and nothing of it runs until then." };
        Option<string?> vet = new("--vet") { Description = "Vet a trusted one again, or a built-in processor by its id." };
        Option<string?> isolate = new("--isolate") { Description = "Run a processor, by its id, or all of a file in a process of its own: not even its crash stops the music. It plays a little later, which is compensated. For one place of one album: 'livestems set ALBUM 1/Bass/tilt.ownProcess=on'." };
        Option<string?> share = new("--share") { Description = "Run it inside the program again." };
        Option<string?> author = new("--author") { Description = "Say that a file, or a folder inside the processors folder, is your own work: every new build of it runs unasked and unvetted, and replaces the one before while music plays." };
        Option<string?> noAuthor = new("--no-author") { Description = "Take that back." };
        Option<bool> yes = new("--yes") { Description = "With --trust and --author: do not ask; needed with --json." };
        Option<bool> json = CommonOptions.Json();
        (Option<string?> Option, Func<ProcessorDecisions, string, int> Run)[] actions =
        [
            (trust, (decisions, named) => decisions.Trust(named)),
            (refuse, (decisions, named) => decisions.Refuse(named)),
            (forget, (decisions, named) => decisions.Forget(named)),
            (vet, (decisions, named) => decisions.Vet(named)),
            (isolate, (decisions, named) => decisions.Isolate(named, true)),
            (share, (decisions, named) => decisions.Isolate(named, false)),
            (author, (decisions, named) => decisions.OwnWork(named, true)),
            (noAuthor, (decisions, named) => decisions.OwnWork(named, false)),
        ];
        Command verb = new("processors", "Lists the processors of others in your processors folder, and lets you say which may run, and where. Nothing in the folder runs before you have said yes; a file that has changed is asked about again.");
        Array.ForEach(actions, action => verb.Add(action.Option));
        verb.Add(yes);
        verb.Add(json);
        verb.AddExamples(
            "livestems processors",
            "livestems processors --trust Tilt.dll",
            "livestems processors --trust tilt --yes        for scripts",
            "livestems processors --isolate tilt            in a process of its own",
            "livestems processors --author MyProcessor.dll  while you write it",
            "livestems processors --vet tilt --json",
            "livestems processors --refuse Tilt.dll");
        verb.SetAction(parsed =>
        {
            ProcessorDecisions decisions = new(parsed.InvocationConfiguration.Output, parsed.GetValue(yes), parsed.GetValue(json), interruption);
            (Option<string?> Option, Func<ProcessorDecisions, string, int> Run)[] given = [.. actions.Where(action => parsed.GetValue(action.Option) is not null)];
            return given switch
            {
                [] => decisions.List(),
                [var (option, run)] => run(decisions, parsed.GetValue(option)!),
                _ => throw new UsageException($"{string.Join(", ", actions[..^1].Select(action => action.Option.Name))} and {actions[^1].Option.Name} are used one at a time"),
            };
        });
        return verb;
    }
}
