namespace LiveStems.Albums.Model;

/// <summary>What a stem plays in its song.</summary>
public enum StemRole
{
    /// <summary>None of the others, or not known.</summary>
    Other,

    /// <summary>Drum kit.</summary>
    Drums,

    /// <summary>Bass guitar, double bass, synthesiser bass.</summary>
    Bass,

    /// <summary>Guitars.</summary>
    Guitar,

    /// <summary>Pianos, organs and other keyboards.</summary>
    Keys,

    /// <summary>Synthesisers and pads.</summary>
    Synth,

    /// <summary>Bowed strings.</summary>
    Strings,

    /// <summary>The voice in front.</summary>
    LeadVocal,

    /// <summary>Harmony and backing voices.</summary>
    BackingVocal,

    /// <summary>Shakers, congas, tambourines.</summary>
    Percussion,

    /// <summary>Sound effects, risers, ambience.</summary>
    Effects,
}
