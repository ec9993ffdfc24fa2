namespace LiveStems.App.Demo.Mixing;

/// <summary>Repeatable random numbers: G. Marsaglia, "Xorshift RNGs", 2003, 32 bits.</summary>
internal struct Noise
{
    private uint state;

    public Noise(uint seed)
    {
        state = Scatter(seed) | 1;
    }

    /// <summary>Even between −1 and 1.</summary>
    public float Next()
    {
        state ^= state << 13;
        state ^= state >> 17;
        state ^= state << 5;
        return (int)state * (1f / 2147483648f);
    }

    /// <summary>Even between two values.</summary>
    public double Between(double low, double high) => low + (high - low) * (0.5 + 0.5 * Next());

    /// <summary>Bell-shaped around 0 with a standard deviation of 1, never beyond ±3.</summary>
    public double Bell() => Next() + Next() + Next();

    /// <summary>A seed that two numbers always give.</summary>
    public static uint Mix(uint seed, long number) => Scatter(seed ^ Scatter((uint)number + 0x9E3779B9u));

    // Finaliser of MurmurHash3 (A. Appleby): neighbouring seeds start unrelated sequences.
    private static uint Scatter(uint value)
    {
        value ^= value >> 16;
        value *= 0x85EBCA6B;
        value ^= value >> 13;
        value *= 0xC2B2AE35;
        return value ^ (value >> 16);
    }
}
