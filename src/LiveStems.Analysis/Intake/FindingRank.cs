namespace LiveStems.Analysis.Intake;

/// <summary>How much a finding matters.</summary>
public enum FindingRank
{
    /// <summary>Work should not begin before it is cleared.</summary>
    Stop,

    /// <summary>Listen to it, and ask when in doubt.</summary>
    Look,

    /// <summary>Good to know.</summary>
    Note,
}
