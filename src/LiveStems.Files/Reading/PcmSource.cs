namespace LiveStems.Files.Reading;

/// <summary>Frames that lie plainly in a file.</summary>
internal sealed class PcmSource(SoundBytes file, PcmContent content) : FrameSource
{
    private readonly int frameBytes = content.Layout.Bytes * content.Channels;

    internal override AudioFileInfo Info { get; } = new(
        file.Path,
        content.Container,
        content.Layout.IsFloat ? SampleEncoding.Float : SampleEncoding.Integer,
        content.ValidBits,
        content.Channels,
        content.SampleRate,
        content.Frames);

    internal override SampleLayout Layout => content.Layout;

    internal override int Fetch(long frame, Span<byte> destination) =>
        file.Read(content.Offset + (frame * frameBytes), destination);

    public override void Dispose() => file.Dispose();
}
