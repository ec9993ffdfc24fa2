namespace LiveStems.Albums.Import;

/// <summary>Counts the bytes that several threads read.</summary>
internal sealed class ReadingProgress(IProgress<ImportProgress>? listener, long total)
{
    private long done;

    public void Add(int bytes) => listener?.Report(new ImportProgress(Interlocked.Add(ref done, bytes), total));
}
