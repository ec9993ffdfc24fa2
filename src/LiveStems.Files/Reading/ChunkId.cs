namespace LiveStems.Files.Reading;

/// <summary>Names of chunks as big-endian numbers.</summary>
internal static class ChunkId
{
    internal const uint Fmt = 0x666D7420;
    internal const uint Data = 0x64617461;
    internal const uint Ds64 = 0x64733634;
    internal const uint Comm = 0x434F4D4D;
    internal const uint Ssnd = 0x53534E44;
}
