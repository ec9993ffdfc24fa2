namespace LiveStems.Engine.Monitor;

/// <summary>The largest magnitude since it was last read: one thread adds, another takes, neither waits.</summary>
internal sealed class PeakHold
{
    // Numbers that are not negative are in the order of their bits.
    private int bits;

    /// <summary>Audio thread: takes a magnitude in, 0 or above.</summary>
    public void Add(float magnitude)
    {
        int held = Volatile.Read(ref bits);
        int wanted = BitConverter.SingleToInt32Bits(magnitude);
        if (wanted > held && Interlocked.CompareExchange(ref bits, wanted, held) != held)
        {
            // It was taken meanwhile, so what is held is 0.
            Volatile.Write(ref bits, wanted);
        }
    }

    /// <summary>Any other thread: reads the largest magnitude and starts anew from 0.</summary>
    public float Take() => BitConverter.Int32BitsToSingle(Interlocked.Exchange(ref bits, 0));
}
