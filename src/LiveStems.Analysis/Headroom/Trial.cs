using LiveStems.Albums.Model;

namespace LiveStems.Analysis.Headroom;

/// <summary>A state of a song whose limiter is tried.</summary>
/// <param name="Digest">Digest of all that makes its sound: the same digest, the same figures.</param>
/// <param name="StartsBare">True when it differs from the song without corrections, false when from the song as it is.</param>
/// <param name="Stem">The stem in which it differs; −1 for none.</param>
/// <param name="State">Digest of that stem's state; null for none.</param>
/// <param name="Changed">That stem's state; null for none.</param>
/// <param name="Bus">Its song bus, the limiter last.</param>
internal sealed record Trial(string Digest, bool StartsBare, int Stem, string? State, Stem? Changed, Chain Bus)
{
    /// <summary>True for the song as it is and for the song without corrections.</summary>
    public bool IsBase { get; init; }

    /// <summary>Points of its drive curve that are measured along with it, in steps (<see cref="DriveCurve.StepDb"/>).</summary>
    public IReadOnlyList<int> Drives { get; init; } = [];

    /// <summary>True when what reaches its limiter is to be kept.</summary>
    public bool KeepsSound { get; init; }
}
