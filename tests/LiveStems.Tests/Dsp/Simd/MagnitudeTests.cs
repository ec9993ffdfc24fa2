using LiveStems.Dsp.Simd;
using Xunit;

namespace LiveStems.Tests.Dsp.Simd;

public class MagnitudeTests
{
    [Fact]
    public void TheLargestIsFoundWhereverItStandsInAnyLength()
    {
        for (int length = 1; length <= 40; length++)
        {
            for (int place = 0; place < length; place++)
            {
                float[] samples = [.. Enumerable.Repeat(0.25f, length)];
                samples[place] = -0.75f;
                Assert.Equal(0.75f, Magnitude.Largest(samples));
            }
        }
    }

    [Fact]
    public void WhatIsKnownAlreadyStands()
    {
        Assert.Equal(0.5f, Magnitude.Largest(new float[20], 0.5f));
        Assert.Equal(0.5f, Magnitude.Largest([], 0.5f));
    }

    [Fact]
    public void WhatIsNotANumberIsPassedOverWhereverItStands()
    {
        for (int place = 0; place < 19; place++)
        {
            float[] samples = [.. Enumerable.Repeat(0.25f, 19)];
            samples[place] = float.NaN;
            Assert.Equal(0.25f, Magnitude.Largest(samples));
        }
    }
}
