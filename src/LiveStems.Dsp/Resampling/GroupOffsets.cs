using System.Runtime.CompilerServices;

namespace LiveStems.Dsp.Resampling;

/// <summary>Where the taps of a group's four outputs begin in the tables of tails and hearts.</summary>
internal struct GroupOffsets
{
    public Offsets Tails;
    public Offsets Hearts;

    [InlineArray(RowLayout.GroupSize)]
    internal struct Offsets
    {
        private int first;
    }
}
