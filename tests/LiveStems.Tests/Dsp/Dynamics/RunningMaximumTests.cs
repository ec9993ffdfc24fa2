using LiveStems.Dsp.Dynamics;
using Xunit;

namespace LiveStems.Tests.Dsp.Dynamics;

public class RunningMaximumTests
{
    [Theory]
    [InlineData(1)]
    [InlineData(2)]
    [InlineData(3)]
    [InlineData(48)]
    [InlineData(241)]
    public void EveryValueIsTheHighestOfItsWindowWhateverTheBlocks(int window)
    {
        Random random = new(window);
        float[] input = [.. TestSignals.WhiteNoise(2000, window).Select(x => Math.Max(0, x))];
        RunningMaximum maximum = new(window, 70);
        float[] output = [.. input];
        for (int start = 0; start < output.Length;)
        {
            int run = Math.Min(random.Next(1, 70), output.Length - start);
            maximum.Process(output.AsSpan(start, run));
            start += run;
        }

        for (int i = 0; i < input.Length; i++)
        {
            int from = Math.Max(0, i - window + 1);
            Assert.Equal(input[from..(i + 1)].Max(), output[i]);
        }
    }

    [Theory]
    [InlineData(5, 5)]
    [InlineData(5, 6)]
    [InlineData(20, 61)]
    [InlineData(33, 700)]
    public void MaximaOfShortWindowsMakeThoseOfALongOne(int covered, int window)
    {
        float[] input = [.. TestSignals.WhiteNoise(2000, window).Select(Math.Abs)];
        float[] expected = [.. input];
        new RunningMaximum(window, 2000).Process(expected);
        new RunningMaximum(covered, 2000).Process(input);
        RunningMaximum longer = new(window, 64, covered);
        for (int start = 0; start < 2000; start += 50)
        {
            longer.Process(input.AsSpan(start, 50));
        }

        Assert.Equal(expected, input);
    }

    [Fact]
    public void JoinedMaximaHaveSeenWhatEitherHasSeen()
    {
        RunningMaximum left = new(50, 100);
        RunningMaximum right = new(50, 100);
        float[] a = [.. TestSignals.WhiteNoise(77, 1).Select(Math.Abs)];
        float[] b = [.. TestSignals.WhiteNoise(77, 2).Select(Math.Abs)];
        left.Process([.. a]);
        right.Process([.. b]);
        left.Join(right);
        float[] afterLeft = new float[60];
        float[] afterRight = new float[60];
        left.Process(afterLeft);
        right.Process(afterRight);
        Assert.Equal(afterLeft, afterRight);
        for (int i = 0; i < 49; i++)
        {
            Assert.Equal(Math.Max(a[(28 + i)..].Max(), b[(28 + i)..].Max()), afterLeft[i]);
        }
    }
}
