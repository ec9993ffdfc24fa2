using System.CommandLine;

namespace LiveStems.App.Verbs;

/// <summary>The verbs of the program.</summary>
internal static class AllVerbs
{
    private static readonly (string Name, Func<CancellationToken, Command> Create)[] Makers =
    [
        ("demo", DemoVerb.Create),
        ("import", ImportVerb.Create),
        ("show", _ => ShowVerb.Create()),
        ("set", SetVerb.Create),
        ("undo", _ => UndoVerb.CreateUndo()),
        ("redo", _ => UndoVerb.CreateRedo()),
        ("recover", _ => RecoverVerb.Create()),
        ("versions", _ => VersionsVerb.Create()),
        ("diff", DiffVerb.Create),
        ("check", CheckVerb.Create),
        ("spectrum", SpectrumVerb.Create),
        ("measure", MeasureVerb.Create),
        ("compare", CompareVerb.Create),
        ("parallel", ParallelVerb.Create),
        ("account", AccountVerb.Create),
        ("album", AlbumVerb.Create),
        ("find", FindVerb.Create),
        ("masking", MaskingVerb.Create),
        ("render", RenderVerb.Create),
        ("report", ReportVerb.Create),
        ("open", OpenVerb.Create),
        ("play", PlayVerb.Create),
        ("devices", _ => DevicesVerb.Create()),
        ("probe", ProbeVerb.Create),
        ("processors", ProcessorsVerb.Create),
        ("presets", _ => PresetsVerb.Create()),
        ("completion", _ => CompletionVerb.Create()),
    ];

    /// <summary>The whole command line.</summary>
    public static RootCommand Create(CancellationToken interruption)
    {
        RootCommand root = NewRoot();
        foreach ((_, Func<CancellationToken, Command> create) in Makers)
        {
            root.Add(create(interruption));
        }

        root.AddExamples(
            "livestems demo                                    the whole job on an album made for it",
            "livestems import \"Stems/01 Foghorn Waltz\" --into Album",
            "livestems render Album --out Masters");
        return root;
    }

    /// <summary>
    /// As much of the command line as these arguments can mean: where the first names a verb, that verb alone, which is a tenth
    /// of the work.
    /// </summary>
    public static RootCommand CreateFor(IReadOnlyList<string> arguments, CancellationToken interruption)
    {
        int named = arguments.Count == 0 ? -1 : Array.FindIndex(Makers, maker => maker.Name == arguments[0]);
        if (named < 0)
        {
            return Create(interruption);
        }

        RootCommand root = NewRoot();
        root.Add(Makers[named].Create(interruption));
        return root;
    }

    private static RootCommand NewRoot() => new("Masters albums from stems: check, listen, correct, compare, finish, deliver.");
}
