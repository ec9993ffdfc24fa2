using System.CommandLine;
using System.Runtime.CompilerServices;

namespace LiveStems.App.Verbs;

/// <summary>The verbs of the program.</summary>
internal static class AllVerbs
{
    private static readonly List<(string Name, Func<CancellationToken, Command> Create)> Makers = All();

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
        int named = arguments.Count == 0 ? -1 : Makers.FindIndex(maker => maker.Name == arguments[0]);
        if (named < 0)
        {
            return Create(interruption);
        }

        RootCommand root = NewRoot();
        root.Add(Makers[named].Create(interruption));
        return root;
    }

    // In the order of the job. The quick program knows some of them; all others are left out when it is compiled.
    private static List<(string Name, Func<CancellationToken, Command> Create)> All()
    {
        List<(string, Func<CancellationToken, Command>)> all = [];
        if (RuntimeFeature.IsDynamicCodeSupported)
        {
            all.Add(("demo", DemoVerb.Create));
        }

        all.Add(("import", ImportVerb.Create));
        all.Add(("show", _ => ShowVerb.Create()));
        all.Add(("set", SetVerb.Create));
        all.Add(("undo", _ => UndoVerb.CreateUndo()));
        all.Add(("redo", _ => UndoVerb.CreateRedo()));
        all.Add(("recover", _ => RecoverVerb.Create()));
        all.Add(("versions", _ => VersionsVerb.Create()));

        if (RuntimeFeature.IsDynamicCodeSupported)
        {
            all.Add(("diff", DiffVerb.Create));
        }

        all.Add(("check", CheckVerb.Create));

        if (RuntimeFeature.IsDynamicCodeSupported)
        {
            all.Add(("spectrum", SpectrumVerb.Create));
        }

        all.Add(("measure", MeasureVerb.Create));

        if (RuntimeFeature.IsDynamicCodeSupported)
        {
            all.Add(("compare", CompareVerb.Create));
            all.Add(("parallel", ParallelVerb.Create));
            all.Add(("account", AccountVerb.Create));
            all.Add(("album", AlbumVerb.Create));
            all.Add(("find", FindVerb.Create));
            all.Add(("masking", MaskingVerb.Create));
        }

        all.Add(("render", RenderVerb.Create));

        if (RuntimeFeature.IsDynamicCodeSupported)
        {
            all.Add(("report", ReportVerb.Create));
            all.Add(("open", OpenVerb.Create));
            all.Add(("play", PlayVerb.Create));
            all.Add(("devices", _ => DevicesVerb.Create()));
            all.Add(("probe", ProbeVerb.Create));
            all.Add(("processors", ProcessorsVerb.Create));
            all.Add(("presets", _ => PresetsVerb.Create()));
            all.Add(("completion", _ => CompletionVerb.Create()));
        }

        return all;
    }

    private static RootCommand NewRoot() => new("Masters albums from stems: check, listen, correct, compare, finish, deliver.");
}
