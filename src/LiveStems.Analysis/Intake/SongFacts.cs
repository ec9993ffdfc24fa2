namespace LiveStems.Analysis.Intake;

/// <summary>What was measured in a song.</summary>
/// <param name="Title">Its title.</param>
/// <param name="SampleRate">The rate that most stems have, in Hz.</param>
/// <param name="Stems">The stems.</param>
/// <param name="RoughMix">The rough mix; null when there is none.</param>
/// <param name="Mix">The stems beside the rough mix; null when there is none, or it is silent or too short.</param>
/// <param name="Relations">Stems that share sound.</param>
/// <param name="IsLongEnough">False when the song is too short to hold its files against each other.</param>
public sealed record SongFacts(
    string Title,
    int SampleRate,
    IReadOnlyList<SongFile> Stems,
    SongFile? RoughMix,
    MixComparison? Mix,
    IReadOnlyList<StemRelation> Relations,
    bool IsLongEnough);
