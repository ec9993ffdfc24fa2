namespace LiveStems.Engine.Offline;

/// <summary>How far a render has come.</summary>
/// <param name="DoneFrames">Frames delivered.</param>
/// <param name="TotalFrames">Frames to deliver, without the tail.</param>
public readonly record struct RenderProgress(long DoneFrames, long TotalFrames);
