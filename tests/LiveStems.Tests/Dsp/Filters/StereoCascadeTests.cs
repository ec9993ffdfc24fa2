using LiveStems.Dsp.Filters;
using LiveStems.Tests.Signals;
using Xunit;

namespace LiveStems.Tests.Dsp.Filters;

public class StereoCascadeTests
{
    private const int Frames = 1000;

    // Float output rounds to 2^-25 of the largest value; the sections' own rounding lies far below.
    private const double Rounding = 1.0 / (1 << 24);

    [Theory]
    [InlineData(1)]
    [InlineData(2)]
    [InlineData(3)]
    [InlineData(5)]
    [InlineData(6)]
    [InlineData(8)]
    [InlineData(9)]
    [InlineData(15)]
    public void EqualsPlainBiquadsInSeries(int count)
    {
        Random random = new(count);
        StereoCascade cascade = new(count);
        BiquadCoefficients[] plain = new BiquadCoefficients[count];
        for (int i = 0; i < count; i++)
        {
            plain[i] = BiquadDesign.Bell(30 * Math.Pow(600, random.NextDouble()), 0.5 + 3 * random.NextDouble(), 12 * random.NextDouble() - 6, 48000);
            cascade.Set(i, StateVariableCoefficients.FromBiquad(plain[i]));
        }

        (float[] left, float[] right) = (Noise.White(Frames, 1), Noise.White(Frames, 2));
        double[] expectedLeft = PlainSections.Biquads(plain, [.. left]);
        double[] expectedRight = PlainSections.Biquads(plain, [.. right]);
        cascade.Process(left, right);
        AssertClose(expectedLeft, left);
        AssertClose(expectedRight, right);
    }

    // 20 Hz at 384 kHz: the poles lie 1e-4 from z = 1.
    [Fact]
    public void VeryLowFilterAtAVeryHighRateKeepsItsPrecision()
    {
        BiquadCoefficients plain = BiquadDesign.HighPass(20, Math.Sqrt(0.5), 384_000);
        StereoCascade cascade = new(1);
        cascade.Set(0, StateVariableCoefficients.FromBiquad(plain));
        float[] left = new float[20_000], right = new float[20_000];
        Array.Fill(left, 1);
        cascade.Process(left, right);
        AssertClose(PlainSections.Biquads([plain], [.. Enumerable.Repeat(1.0, left.Length)]), left);
        Assert.All(right, x => Assert.Equal(0, x));
    }

    [Theory]
    [InlineData(1)]
    [InlineData(7)]
    [InlineData(32)]
    [InlineData(64)]
    [InlineData(511)]
    public void BlocksDoNotMatter(int block)
    {
        (float[] left, float[] right) = (Noise.White(4000, 3), Noise.White(4000, 4));
        (float[] leftWhole, float[] rightWhole) = ((float[])left.Clone(), (float[])right.Clone());
        Run(leftWhole, rightWhole, 4000);
        Run(left, right, block);
        Assert.Equal(leftWhole, left);
        Assert.Equal(rightWhole, right);

        static void Run(float[] left, float[] right, int block)
        {
            StereoCascade cascade = Elevenfold(1000);
            int[] moves = [640, 1280, 2000];
            int done = 0;
            while (done < left.Length)
            {
                int next = moves.Append(left.Length).First(x => x > done);
                if (moves.Contains(done))
                {
                    cascade.MoveTo(3, Bell(200 + done, 5));
                    cascade.MoveTo(9, Bell(9000 - done, 2));
                    cascade.StartGlide(100);
                }

                int count = Math.Min(block, next - done);
                cascade.Process(left.AsSpan(done, count), right.AsSpan(done, count));
                done += count;
            }
        }
    }

    [Fact]
    public void GlideFollowsTheStraightLineFrameByFrame()
    {
        (StateVariableCoefficients from, StateVariableCoefficients to) = (Bell(100, 3), Bell(9000, 8));
        StereoCascade cascade = new(1);
        cascade.Set(0, from);
        float[] left = Noise.White(Frames, 5);
        double[] expected = PlainSections.Moving(n => Between(from, to, Math.Clamp((n - 299) / 200.0, 0, 1)), [.. left]);
        float[] right = [.. left];
        cascade.Process(left.AsSpan(0, 300), right.AsSpan(0, 300));
        cascade.MoveTo(0, to);
        cascade.StartGlide(200);
        cascade.Process(left.AsSpan(300), right.AsSpan(300));
        AssertClose(expected, left);
        Assert.Equal(left, right);
    }

    // The remarks of StateVariableCoefficients: with no input the integrators' energy never grows, however the
    // coefficients jump about. The output's mix is bounded here by |Band| + |Low| = 2.
    [Fact]
    public void FilterThatIsThrownAboutNeverBlowsUp()
    {
        Random random = new(6);
        StereoCascade cascade = new(1);
        cascade.Set(0, new(0.01, 0.001, 1, 1, 1));
        float[] left = Noise.White(64, 7), right = Noise.White(64, 8);
        cascade.Process(left, right);
        float[] loud = new float[32];
        float peak = 0;
        for (int step = 0; step < 20_000; step++)
        {
            cascade.MoveTo(0, new(Math.Pow(10, 6 * random.NextDouble() - 4), 0.001 * random.NextDouble(), 1, 1, 1));
            cascade.StartGlide(32);
            Array.Clear(loud);
            cascade.Process(loud, new float[32]);
            peak = Math.Max(peak, loud.Max(Math.Abs));
        }

        // 64 frames of noise below 0.5 through integrators of at most 2G = 0.02 a frame store less than 1.
        Assert.InRange(peak, 0, 2);
    }

    [Fact]
    public void SectionPutInNeutralIsNotHeard()
    {
        (float[] left, float[] right) = (Noise.White(Frames, 9), Noise.White(Frames, 10));
        float[] original = [.. left];
        StereoCascade cascade = new(2);
        cascade.Set(1, Bell(3000, 4).Faded(0));
        cascade.Process(left, right);
        Assert.Equal(original, left);
    }

    [Fact]
    public void CascadeWithoutSectionsPassesEveryBit()
    {
        float[] left = [1e-40f, float.NaN, 3, -0f], right = [1, 2, 3, 4];
        new StereoCascade(4).Process(left, right);
        Assert.Equal([1e-40f, float.NaN, 3, -0f], left);
    }

    [Fact]
    public void ResetIsSilenceBefore()
    {
        StereoCascade cascade = Elevenfold(700);
        (float[] first, float[] second) = (Noise.White(Frames, 11), Noise.White(Frames, 11));
        cascade.Process(first, new float[Frames]);
        cascade.Reset();
        cascade.Process(second, new float[Frames]);
        Assert.Equal(first, second);
    }

    // REFERENCES 16.1: impulse, then a minute of silence; the state must reach exactly 0.
    [Fact]
    public void TailEndsInExactSilence()
    {
        StereoCascade cascade = Elevenfold(40);
        float[] left = new float[4096], right = new float[4096];
        left[0] = 1;
        for (int block = 0; block < 48_000 * 60 / 4096; block++)
        {
            cascade.Process(left, right);
            cascade.FlushTinyState();
            if (block < 48_000 * 60 / 4096 - 1)
            {
                Array.Clear(left);
            }
        }

        Assert.All(left, x => Assert.Equal(0, x));
    }

    private static StereoCascade Elevenfold(double frequencyHz)
    {
        StereoCascade cascade = new(13);
        for (int i = 0; i < 13; i++)
        {
            if (i is not (2 or 7))
            {
                cascade.Set(i, Bell(frequencyHz * (1 + i), 1 + i));
            }
        }

        return cascade;
    }

    private static StateVariableCoefficients Bell(double frequencyHz, double q) =>
        StateVariableCoefficients.FromBiquad(BiquadDesign.Bell(frequencyHz, q, 5, 48_000));

    private static StateVariableCoefficients Between(StateVariableCoefficients a, StateVariableCoefficients b, double share) => new(
        a.G + share * (b.G - a.G),
        a.K + share * (b.K - a.K),
        a.Direct + share * (b.Direct - a.Direct),
        a.Band + share * (b.Band - a.Band),
        a.Low + share * (b.Low - a.Low));

    private static void AssertClose(double[] expected, float[] actual)
    {
        double largest = Math.Max(1, expected.Max(Math.Abs));
        for (int n = 0; n < expected.Length; n++)
        {
            Assert.Equal(expected[n], actual[n], Rounding * largest);
        }
    }
}
