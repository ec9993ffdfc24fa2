using LiveStems.Engine.Comparing;

namespace LiveStems.App.Playing;

/// <summary>What is to be compared while playing.</summary>
/// <param name="First">What is compared from the start; null for nothing.</param>
/// <param name="IsInSong">True to hear it inside the whole song.</param>
/// <param name="Further">Comparisons beside those that the song itself offers.</param>
/// <param name="Rounds">Rounds of a blind test.</param>
internal sealed record PlayComparing(CompareScope? First, bool IsInSong, IReadOnlyList<CompareScope> Further, int Rounds);
