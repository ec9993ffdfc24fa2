using LiveStems.Dsp.Spectral;
using Xunit;

namespace LiveStems.Tests.Dsp.Spectral;

public class PublishedCurveTests
{
    [Fact]
    public void ReaderSeesTheNewestCurveAndItStandsStill()
    {
        PublishedCurve curve = new(4);
        Assert.All(curve.Latest().ToArray(), value => Assert.Equal(0, value));
        Publish(curve, 1);
        Publish(curve, 2);
        ReadOnlySpan<float> seen = curve.Latest();
        Publish(curve, 3);
        Publish(curve, 4);
        Assert.Equal(2, seen[0]);
        Assert.Equal(4, curve.Latest()[3]);
        Assert.Equal(4, curve.Latest()[3]);
    }

    [Fact]
    public void ReaderNeverSeesACurveThatIsBeingWritten()
    {
        PublishedCurve curve = new(512);
        Thread writer = new(() =>
        {
            for (int value = 1; value <= 20_000; value++)
            {
                Publish(curve, value);
            }
        });
        writer.Start();
        float last = 0;
        while (last < 20_000)
        {
            ReadOnlySpan<float> seen = curve.Latest();
            Assert.True(seen[0] >= last);
            last = seen[0];
            Assert.False(seen.ContainsAnyExcept(last));
        }

        writer.Join();
    }

    private static void Publish(PublishedCurve curve, float value)
    {
        curve.Next.Fill(value);
        curve.Publish();
    }
}
