namespace LiveStems.Engine.Offline;

/// <summary>Takes the sound of each stem as it arrives on the song bus.</summary>
public interface IStemSink
{
    /// <summary>Takes the next frames of a stem with its chain, parallels, gain and pan; stems in order, block by block.</summary>
    void Write(int stem, ReadOnlySpan<float> left, ReadOnlySpan<float> right);
}
