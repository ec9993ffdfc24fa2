namespace LiveStems.Engine.RealTime;

/// <summary>Why the sound passes a processor by that is switched on.</summary>
internal enum ProcessorFault
{
    /// <summary>It does not.</summary>
    None,

    /// <summary>It threw or delivered something that is not finite.</summary>
    Failed,

    /// <summary>It took too long, again and again.</summary>
    TooSlow,
}
