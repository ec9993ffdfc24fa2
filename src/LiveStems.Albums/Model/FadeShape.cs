namespace LiveStems.Albums.Model;

/// <summary>How a fade runs from silence to full level, or back.</summary>
public enum FadeShape
{
    /// <summary>Level and ends without a corner: half a period of a raised cosine.</summary>
    Smooth,

    /// <summary>A straight line.</summary>
    Linear,

    /// <summary>A quarter of a sine: two unrelated sounds faded across each other keep their power.</summary>
    EqualPower,

    /// <summary>Even steps in decibels over 60 dB, as a hand on a fader does it.</summary>
    Decibels,
}
