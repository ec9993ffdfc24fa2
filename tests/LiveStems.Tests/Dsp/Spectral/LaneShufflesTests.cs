using System.Runtime.Intrinsics;
using LiveStems.Dsp.Spectral;
using Xunit;

namespace LiveStems.Tests.Dsp.Spectral;

/// <summary>Holds with and without hardware vectors: run with DOTNET_EnableHWIntrinsic=0 for the latter.</summary>
public class LaneShufflesTests
{
    private static readonly Vector256<float> A = Vector256.Create(0f, 1, 2, 3, 4, 5, 6, 7);
    private static readonly Vector256<float> B = Vector256.Create(10f, 11, 12, 13, 14, 15, 16, 17);

    [Fact]
    public void LanesGoWhereTheNamesSay()
    {
        Assert.Equal(Vector256.Create(0f, 10, 1, 11, 4, 14, 5, 15), LaneShuffles.InterleaveLow(A, B));
        Assert.Equal(Vector256.Create(2f, 12, 3, 13, 6, 16, 7, 17), LaneShuffles.InterleaveHigh(A, B));
        Assert.Equal(Vector256.Create(0f, 2, 10, 12, 4, 6, 14, 16), LaneShuffles.Evens(A, B));
        Assert.Equal(Vector256.Create(1f, 3, 11, 13, 5, 7, 15, 17), LaneShuffles.Odds(A, B));
        Assert.Equal(Vector256.Create(0f, 1, 10, 11, 4, 5, 14, 15), LaneShuffles.LowPairs(A, B));
        Assert.Equal(Vector256.Create(2f, 3, 12, 13, 6, 7, 16, 17), LaneShuffles.HighPairs(A, B));
        Assert.Equal(Vector256.Create(7f, 6, 5, 4, 3, 2, 1, 0), LaneShuffles.Reverse(A));
    }
}
