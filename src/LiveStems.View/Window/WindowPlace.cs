namespace LiveStems.View.Window;

/// <summary>Where a window stands and how large it is, in screen units.</summary>
/// <param name="X">Left edge; null for wherever the system puts it.</param>
/// <param name="Y">Upper edge.</param>
/// <param name="Width">Width.</param>
/// <param name="Height">Height.</param>
/// <param name="IsMaximised">True when it fills the screen.</param>
internal readonly record struct WindowPlace(int? X, int? Y, int Width, int Height, bool IsMaximised);
