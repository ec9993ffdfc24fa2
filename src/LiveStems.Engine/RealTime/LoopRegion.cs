namespace LiveStems.Engine.RealTime;

/// <summary>A stretch of a song that repeats, from a frame up to but without another.</summary>
internal sealed record LoopRegion(long StartFrame, long EndFrame)
{
    /// <summary>Length in frames.</summary>
    public long Frames => EndFrame - StartFrame;

    /// <summary>Where a position that runs straight on through the end really is.</summary>
    public long Fold(long frame) => frame < EndFrame ? frame : StartFrame + (frame - StartFrame) % Frames;
}
