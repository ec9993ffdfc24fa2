namespace LiveStems.Dsp.Filters;

/// <summary>
/// Linkwitz-Riley crossovers of order 2n: each branch is two Butterworth filters of order n in series (S. Linkwitz, 1976;
/// from memory, and checked: REFERENCES section 4). Both branches stand at −6.02 dB at the crossover, and their sum passes
/// every frequency at the same level.
/// </summary>
public static class LinkwitzRiley
{
    /// <summary>Sections of one branch.</summary>
    /// <param name="order">Order of a branch: 2, 4, 6 or 8, that is 12 to 48 dB an octave.</param>
    public static int SectionCount(int order) => 2 * Butterworth.SectionCount(order / 2);

    /// <summary>
    /// What the high branch must be multiplied by for the sum to be flat: −1 at orders 2 and 6, where the branches are in
    /// opposite phase, otherwise 1.
    /// </summary>
    public static int HighBranchSign(int order) => order % 4 == 0 ? 1 : -1;

    /// <summary>The branch below the crossover.</summary>
    /// <param name="order">Order of a branch: 2, 4, 6 or 8.</param>
    /// <param name="frequencyHz">Crossover, below half the sample rate.</param>
    /// <param name="sampleRate">Frames per second.</param>
    /// <param name="sections">Room for <see cref="SectionCount"/> sections.</param>
    public static void LowBranch(int order, double frequencyHz, double sampleRate, Span<BiquadCoefficients> sections)
    {
        int half = Butterworth.SectionCount(order / 2);
        Butterworth.LowPass(order / 2, frequencyHz, sampleRate, sections);
        sections[..half].CopyTo(sections[half..]);
    }

    /// <summary>The branch above the crossover, before <see cref="HighBranchSign"/>.</summary>
    /// <param name="order">Order of a branch: 2, 4, 6 or 8.</param>
    /// <param name="frequencyHz">Crossover, below half the sample rate.</param>
    /// <param name="sampleRate">Frames per second.</param>
    /// <param name="sections">Room for <see cref="SectionCount"/> sections.</param>
    public static void HighBranch(int order, double frequencyHz, double sampleRate, Span<BiquadCoefficients> sections)
    {
        int half = Butterworth.SectionCount(order / 2);
        Butterworth.HighPass(order / 2, frequencyHz, sampleRate, sections);
        sections[..half].CopyTo(sections[half..]);
    }
}
