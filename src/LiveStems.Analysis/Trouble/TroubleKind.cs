namespace LiveStems.Analysis.Trouble;

/// <summary>What is wrong.</summary>
public enum TroubleKind
{
    /// <summary>A narrow range that rings at a fixed pitch whatever is played.</summary>
    Resonance,

    /// <summary>A single tone that rings beside the sound.</summary>
    RingingTone,

    /// <summary>A broad range of the upper middle that stands out.</summary>
    Glare,

    /// <summary>Sharp s, sh and t.</summary>
    Sibilance,

    /// <summary>Low notes that are thick.</summary>
    Mud,

    /// <summary>Clicks of a pick or of fingers on frets.</summary>
    PickNoise,

    /// <summary>Mains hum with its harmonics.</summary>
    Hum,

    /// <summary>Low-frequency noise below the instrument: stands, feet, wind.</summary>
    Rumble,

    /// <summary>Hiss where the instrument has nothing.</summary>
    Hiss,
}

/// <summary>When a finding happens.</summary>
public enum Occurrence
{
    /// <summary>Most of the time that the stem sounds.</summary>
    Steady,

    /// <summary>With some notes.</summary>
    NoteFollowing,

    /// <summary>In events: strokes, consonants, passages.</summary>
    EventBound,
}
