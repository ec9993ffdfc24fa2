using LiveStems.Albums.Editing;
using LiveStems.Engine.Hosting;
using LiveStems.Processing.Contract;
using LiveStems.View.Controls;
using LiveStems.View.Desk;

namespace LiveStems.View.Screens;

/// <summary>Lists to choose from.</summary>
internal enum ChooserKind
{
    Command,
    Processor,
    Preset,
    CompareScope,
}

/// <summary>Makes the lists.</summary>
internal static class Choosers
{
    /// <param name="kind">Which list.</param>
    /// <param name="desk">The album.</param>
    /// <param name="tell">Takes what was refused, or null.</param>
    /// <param name="open">Shows another list after the first.</param>
    public static Chooser Create(ChooserKind kind, AlbumDesk desk, Action<string?> tell, Action<Chooser> open) => kind switch
    {
        ChooserKind.Processor => Processors(desk, tell),
        ChooserKind.Preset => Presets(desk, tell),
        ChooserKind.CompareScope => Scopes(desk, tell, open),
        _ => Commands(desk, tell),
    };

    private static Chooser Commands(AlbumDesk desk, Action<string?> tell)
    {
        IReadOnlyList<DeskCommand> found = [];
        return new Chooser(
            "commands",
            "what do you want to do?",
            typed => [.. (found = desk.Commands.Search(typed)).Select(command => new ChoiceLine($"{command.Group}: {command.Words}", command.KeyText))],
            index => tell(found[index].CanRun() ? found[index].Run() : "that cannot be done now"));
    }

    private static Chooser Processors(AlbumDesk desk, Action<string?> tell)
    {
        IReadOnlyList<ProcessorDescription> found = [];
        return new Chooser(
            $"add to {desk.Chain.Name}",
            "a processor, or what it should do",
            typed => [.. (found = [.. desk.Chain.Kinds.Where(kind => Fits($"{kind.Name} {kind.Id} {kind.Purpose}", typed))]).Select(kind => LineOf(desk, kind))],
            index => tell(desk.Chain.Add(found[index].Id)));
    }

    /// <summary>A processor to choose: one of others says so, and what vetting has marked it for.</summary>
    internal static ChoiceLine LineOf(AlbumDesk desk, ProcessorDescription kind)
    {
        string words = $"{kind.Name}: {kind.Purpose}";
        return !desk.Catalogue.IsOfOthers(kind.Id) ? new ChoiceLine(words, string.Empty)
            : desk.Outside.MarkOf(kind.Id) is { } mark ? new ChoiceLine($"{words} Marked: it {mark}", "of others, marked")
            : new ChoiceLine(words, "of others");
    }

    private static Chooser Presets(AlbumDesk desk, Action<string?> tell)
    {
        ChainPreset[] all = [.. PresetFiles.All(HostingPlaces.OfUser).Select(PresetFiles.TryLoad).OfType<ChainPreset>()];
        IReadOnlyList<ChainPreset> found = [];
        return new Chooser(
            $"add to {desk.Chain.Name}",
            "a purpose, an instrument, a word of what you hear",
            typed => [.. (found = [.. all.Where(preset => Fits($"{preset.Name} {preset.Role} {preset.Purpose}", typed))]).Select(preset => new ChoiceLine($"{preset.Name}: {preset.Purpose}", $"{preset.Role}"))],
            index => tell(desk.Chain.AddPreset(found[index])));
    }

    private static Chooser Scopes(AlbumDesk desk, Action<string?> tell, Action<Chooser> open)
    {
        CompareKind[] all = [CompareKind.Processor, CompareKind.Chain, CompareKind.Stem, CompareKind.Parallel, CompareKind.AllStems, CompareKind.SongChain, CompareKind.RoughMix, CompareKind.File];
        CompareKind[] found = all;
        return new Chooser(
            "compare",
            "what is compared",
            typed => [.. (found = [.. all.Where(kind => Fits(CompareStrip.WordsOf(kind), typed))]).Select(kind => new ChoiceLine(CompareStrip.WordsOf(kind), string.Empty))],
            index =>
            {
                if (found[index] == CompareKind.File)
                {
                    open(SoundFileChooser.Create(desk.Folder, open, path => tell(desk.Compare.Choose(CompareKind.File, path))));
                }
                else
                {
                    tell(desk.Compare.Choose(found[index]));
                }
            });
    }

    /// <summary>True when every word that was typed is part of a text.</summary>
    internal static bool Fits(string text, string typed) =>
        typed.Split(' ', StringSplitOptions.RemoveEmptyEntries).All(word => text.Contains(word, StringComparison.OrdinalIgnoreCase));
}
