using System.Runtime.Intrinsics;
using LiveStems.Dsp.Space;
using Xunit;

namespace LiveStems.Tests.Dsp.Space;

public class FeedbackDelayNetworkTests
{
    private static readonly int[] Frames = [101, 127, 151, 181, 211, 241, 277, 307];

    // H of order 2n is H beside H over H beside −H (REFERENCES section 12): the sign is that of the parity of the bits shared by
    // row and column.
    [Fact]
    public void MatrixIsHadamards()
    {
        for (int column = 0; column < 8; column++)
        {
            Vector256<float> mixed = FeedbackDelayNetwork.Mix(Vector256<float>.Zero.WithElement(column, 1));
            for (int row = 0; row < 8; row++)
            {
                double sign = int.PopCount(row & column) % 2 == 0 ? 1 : -1;
                Assert.Equal(sign / Math.Sqrt(8), mixed[row], 1e-7);
            }
        }
    }

    // The plain network in double, line by line and sum by sum.
    [Fact]
    public void VectorsComputeThePlainNetwork()
    {
        LineAbsorption loss = LineAbsorption.For(Frames, 0.4, 0.2, 3000, 48_000);
        FeedbackDelayNetwork network = new(Frames, FeedbackDelayNetwork.MiddleSigns);
        network.Jump(loss);
        network.Reset();
        float[] sound = new float[6000];
        sound[0] = 1;
        sound[37] = -0.5f;
        float[] answer = new float[6000];
        network.Process(sound, answer, 0, 32);

        double[][] lines = [.. Frames.Select(frames => new double[frames])];
        double[] states = new double[8];
        int[] signs = [1, 1, -1, 1, -1, -1, 1, 1];
        for (int n = 0; n < sound.Length; n++)
        {
            double[] heard = new double[8];
            for (int line = 0; line < 8; line++)
            {
                double end = lines[line][n % Frames[line]];
                heard[line] = loss.B0[line] * end + states[line];
                states[line] = loss.B1[line] * end - loss.A1[line] * heard[line];
            }

            Assert.Equal(heard.Sum() / Math.Sqrt(8), answer[n], 1e-6);
            for (int line = 0; line < 8; line++)
            {
                double mixed = Enumerable.Range(0, 8).Sum(other => (int.PopCount(line & other) % 2 == 0 ? 1 : -1) * heard[other]) / Math.Sqrt(8);
                lines[line][n % Frames[line]] = mixed + signs[line] * loss.Injection * sound[n];
            }
        }
    }

    // Losses for 1000 frames at T = 1 s and 48 kHz: −1.25 dB, 0.865964 (REFERENCES section 12).
    [Fact]
    public void LineLosesWhatItsLengthDemands()
    {
        int[] frames = [1000, 1499, 1000, 1000, 1000, 1000, 1000, 1000];
        LineAbsorption even = LineAbsorption.For(frames, 1, 1, 5000, 48_000);
        Assert.Equal(0.865964323, Low(even, 0), 1e-6);
        Assert.Equal(0.835462735, Low(LineAbsorption.For(frames, 1.2, 1.2, 5000, 48_000), 1), 1e-6);
        LineAbsorption damped = LineAbsorption.For(frames, 1, 0.5, 5000, 48_000);
        Assert.Equal(0.865964323, Low(damped, 0), 1e-6);
        Assert.Equal(Math.Pow(0.865964323, 2), (damped.B0[0] - damped.B1[0]) / (1 - damped.A1[0]), 1e-6);

        static double Low(LineAbsorption loss, int line) => (loss.B0[line] + (double)loss.B1[line]) / (1 + (double)loss.A1[line]);
    }

    [Fact]
    public void DelaysAreDifferentPrimesNearTheirWishes()
    {
        int[] delays = new int[4];
        PrimeDelays.Fill([100, 100, 100, 2], delays);
        Assert.Equal([101, 97, 103, 2], delays);
    }
}
