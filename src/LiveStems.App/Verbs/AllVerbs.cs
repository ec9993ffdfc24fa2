using System.CommandLine;

namespace LiveStems.App.Verbs;

/// <summary>The verbs of the program.</summary>
internal static class AllVerbs
{
    /// <summary>The whole command line.</summary>
    public static RootCommand Create(CancellationToken interruption)
    {
        RootCommand root = new("Masters albums from stems: check, listen, correct, compare, finish, deliver.")
        {
            DemoVerb.Create(interruption),
            ImportVerb.Create(interruption),
            ShowVerb.Create(),
            SetVerb.Create(interruption),
            UndoVerb.CreateUndo(),
            UndoVerb.CreateRedo(),
            RecoverVerb.Create(),
            VersionsVerb.Create(),
            DiffVerb.Create(interruption),
            CheckVerb.Create(interruption),
            SpectrumVerb.Create(interruption),
            MeasureVerb.Create(interruption),
            CompareVerb.Create(interruption),
            ParallelVerb.Create(interruption),
            AccountVerb.Create(interruption),
            AlbumVerb.Create(interruption),
            FindVerb.Create(interruption),
            MaskingVerb.Create(interruption),
            RenderVerb.Create(interruption),
            ReportVerb.Create(interruption),
            OpenVerb.Create(interruption),
            PlayVerb.Create(interruption),
            DevicesVerb.Create(),
            ProbeVerb.Create(interruption),
            ProcessorsVerb.Create(interruption),
            PresetsVerb.Create(),
            CompletionVerb.Create(),
        };
        root.AddExamples(
            "livestems demo                                    the whole job on an album made for it",
            "livestems import \"Stems/01 Foghorn Waltz\" --into Album",
            "livestems render Album --out Masters");
        return root;
    }
}
