using LiveStems.Dsp.Filters;
using LiveStems.Dsp.Simd;
using LiveStems.Tests.Signals;
using Xunit;

namespace LiveStems.Tests.Dsp.Filters;

public class CascadeGroupTests
{
    // Two cascades share vectors in another way than three or four, in sixes of sections, and short stretches in another
    // way than long ones.
    [Theory]
    [InlineData(2)]
    [InlineData(3)]
    [InlineData(4)]
    public void SideBySideIsTheSameAsAloneForAnyNumberOfSectionsAndStretches(int count)
    {
        Random random = new(count);
        int[] stretches = [1, 2, 5, 6, 7, 8, 13, 255, 256, 257, 512, 600];
        int frames = stretches.Sum();
        for (int sections = 1; sections <= 14; sections++)
        {
            StereoCascade[] alone = [.. Enumerable.Range(0, count).Select(_ => new StereoCascade(14))];
            StereoCascade[] together = [.. Enumerable.Range(0, count).Select(_ => new StereoCascade(14))];
            for (int i = 0; i < count; i++)
            {
                // One has fewer than its neighbours.
                for (int section = i == 1 ? sections / 2 : 0; section < sections; section++)
                {
                    StateVariableCoefficients bell = StateVariableCoefficients.FromBiquad(
                        BiquadDesign.Bell(30 * Math.Pow(600, random.NextDouble()), 0.5 + 3 * random.NextDouble(), 12 * random.NextDouble() - 6, 48000));
                    alone[i].Set(section, bell);
                    together[i].Set(section, bell);
                }
            }

            PlanarStereo[] expected = [.. alone.Select((_, i) => new PlanarStereo(Noise.White(frames, 2 * i + 1), Noise.White(frames, 2 * i + 2)))];
            PlanarStereo[] actual = [.. expected.Select(sound => new PlanarStereo([.. sound.Left], [.. sound.Right]))];
            CascadeGroup group = new(together);
            int start = 0;
            foreach (int length in stretches)
            {
                for (int i = 0; i < count; i++)
                {
                    alone[i].Process(expected[i].Left.AsSpan(start, length), expected[i].Right.AsSpan(start, length));
                }

                group.Process(actual, start, length);
                start += length;
            }

            for (int i = 0; i < count; i++)
            {
                Assert.Equal(expected[i].Left, actual[i].Left);
                Assert.Equal(expected[i].Right, actual[i].Right);
            }
        }
    }
}
