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
        Option<string?>[] actions = [trust, refuse, forget, vet, isolate, share, author, noAuthor];
        Command verb = new("processors", "Lists the processors of others in your processors folder, and lets you say which may run, and where. Nothing in the folder runs before you have said yes; a file that has changed is asked about again.")
        {
            trust, refuse, forget, vet, isolate, share, author, noAuthor, yes, json,
        };
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
            if (actions.Count(action => parsed.GetValue(action) is not null) > 1)
            {
                throw new UsageException($"{string.Join(", ", actions[..^1].Select(action => action.Name))} and {actions[^1].Name} are used one at a time");
            }

            return (parsed.GetValue(trust), parsed.GetValue(refuse), parsed.GetValue(vet), parsed.GetValue(isolate), parsed.GetValue(share), parsed.GetValue(author), parsed.GetValue(noAuthor), parsed.GetValue(forget)) switch
            {
                ({ } trusted, _, _, _, _, _, _, _) => decisions.Trust(trusted),
                (_, { } refused, _, _, _, _, _, _) => decisions.Refuse(refused),
                (_, _, { } vetted, _, _, _, _, _) => decisions.Vet(vetted),
                (_, _, _, { } apart, _, _, _, _) => decisions.Isolate(apart, true),
                (_, _, _, _, { } shared, _, _, _) => decisions.Isolate(shared, false),
                (_, _, _, _, _, { } own, _, _) => decisions.OwnWork(own, true),
                (_, _, _, _, _, _, { } others, _) => decisions.OwnWork(others, false),
                (_, _, _, _, _, _, _, { } forgotten) => decisions.Forget(forgotten),
                _ => decisions.List(),
            };
        });
        return verb;
    }
}
