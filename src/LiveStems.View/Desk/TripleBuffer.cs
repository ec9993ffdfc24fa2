namespace LiveStems.View.Desk;

/// <summary>
/// Something that one thread keeps writing and one other looks at, the newest whole one at a time, without either ever
/// waiting: three of them, of which one is being written, one is being read and one changes hands.
/// </summary>
/// <typeparam name="T">What is written; all three are made once.</typeparam>
public sealed class TripleBuffer<T>
    where T : class
{
    private const int Fresh = 4;

    private readonly T[] items;
    private int writing;
    private int reading = 1;
    private int between = 2;

    /// <summary>Three of a kind.</summary>
    public TripleBuffer(Func<T> create) => items = [create(), create(), create()];

    /// <summary>What the writing thread writes next; all of it must be written.</summary>
    public T Next => items[writing];

    /// <summary>Writing thread: hands over what was written.</summary>
    public void Publish() => writing = Interlocked.Exchange(ref between, writing | Fresh) & ~Fresh;

    /// <summary>Reading thread: the newest; it stands still until this is called again.</summary>
    public T Latest()
    {
        if ((Volatile.Read(ref between) & Fresh) != 0)
        {
            reading = Interlocked.Exchange(ref between, reading) & ~Fresh;
        }

        return items[reading];
    }
}
