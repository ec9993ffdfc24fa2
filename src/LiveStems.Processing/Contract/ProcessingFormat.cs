namespace LiveStems.Processing.Contract;

/// <summary>What a processor is prepared for.</summary>
/// <param name="SampleRate">Frames per second, 8 000 to 384 000.</param>
/// <param name="MaximumFrames">The longest block that will ever be handed to the processor, at least 1.</param>
public readonly record struct ProcessingFormat(int SampleRate, int MaximumFrames);
