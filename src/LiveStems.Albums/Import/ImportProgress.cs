namespace LiveStems.Albums.Import;

/// <summary>How far files have been read. Reported from several threads, in no strict order.</summary>
/// <param name="BytesDone">Bytes read so far.</param>
/// <param name="BytesTotal">Bytes of all the files.</param>
public readonly record struct ImportProgress(long BytesDone, long BytesTotal);
