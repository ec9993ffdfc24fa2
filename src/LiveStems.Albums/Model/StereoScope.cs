namespace LiveStems.Albums.Model;

/// <summary>The part of a stereo sound that a processor works on.</summary>
public enum StereoScope
{
    /// <summary>Left and right.</summary>
    Stereo,

    /// <summary>(L+R)/2; the side passes by, aligned.</summary>
    Mid,

    /// <summary>(L−R)/2; the mid passes by, aligned.</summary>
    Side,
}
