namespace LiveStems.Engine.RealTime;

/// <summary>Why the sound passes a processor by that is switched on.</summary>
internal enum ProcessorFault
{
    /// <summary>It does not.</summary>
    None,

    /// <summary>It threw.</summary>
    Threw,

    /// <summary>It delivered something that is no number.</summary>
    NotFinite,

    /// <summary>It delivered more than +24 dBFS, and nothing that it was given was so loud.</summary>
    TooLoud,

    /// <summary>It took too long, again and again.</summary>
    TooSlow,

    /// <summary>It wrote beyond the block that it was given.</summary>
    WroteOutside,

    /// <summary>It did not come to an end before anything was heard of it; it is never called again.</summary>
    Hung,
}
