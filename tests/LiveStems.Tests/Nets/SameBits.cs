namespace LiveStems.Tests.Nets;

/// <summary>Compares sound bit by bit and says where it first differs.</summary>
internal static class SameBits
{
    public static void Assert(float[] expected, float[] actual, string what)
    {
        Xunit.Assert.Equal(expected.Length, actual.Length);
        for (int n = 0; n < expected.Length; n++)
        {
            if (BitConverter.SingleToUInt32Bits(expected[n]) != BitConverter.SingleToUInt32Bits(actual[n]))
            {
                Xunit.Assert.Fail($"{what}: frame {n} is {actual[n]:R}, not {expected[n]:R}");
            }
        }
    }
}
