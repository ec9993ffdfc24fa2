namespace LiveStems.Processing.Contract;

/// <summary>How a control's travel maps to its value, and in which domain a moving value glides.</summary>
public enum Taper
{
    /// <summary>Equal travel is an equal difference (decibels, percentages).</summary>
    Linear,

    /// <summary>Equal travel is an equal ratio (frequencies, times); the range must be above zero.</summary>
    Logarithmic,

    /// <summary>One of the whole numbers of the range: a choice from a list, a switch, a count. Never glides.</summary>
    Stepped,
}
