using LiveStems.Dsp;
using LiveStems.Processing.Processors.ResonanceSuppressor;
using LiveStems.Tests.Dsp.Dynamics;
using Xunit;

namespace LiveStems.Tests.Processing.ResonanceSuppressor;

public class SampleRateTests
{
    // Noise of equal density at every rate, and a sine 9 dB above it in a window of 43 ms. Windows of 46 ms at 44.1 kHz raise
    // the sine by 0.4 dB, and a bin's place beside the sine may take up to 1.4 dB (Hann, REFERENCES section 9) from the cut;
    // the mean over half a second still wavers by a few tenths.
    [Theory]
    [InlineData(44_100)]
    [InlineData(88_200)]
    [InlineData(96_000)]
    [InlineData(192_000)]
    public void PartialIsTakenDownAlikeAtEveryRate(int sampleRate)
    {
        double reference = Change(48_000);
        Assert.InRange(reference, -11, -6);
        Assert.InRange(Change(sampleRate), reference - 2, reference + 2);
    }

    private static double Change(int sampleRate)
    {
        const double frequencyHz = 3000;
        int frames = 3 * sampleRate;
        ResonanceSuppressorProcessor processor = ProcessorRun.Prepared<ResonanceSuppressorProcessor>(sampleRate, ("depthPercent", 100));
        float[] noise = TestSignals.WhiteNoise(frames, 4, 0.1 * Math.Sqrt(sampleRate / 48_000.0));
        float[] tone = TestSignals.Sine(frames, frequencyHz, sampleRate, 0.0087);
        float[] sound = [.. noise.Zip(tone, (a, b) => a + b)];
        float[] output = ProcessorRun.Through(processor, sound, sound).Left;
        return Decibels.FromAmplitude(Amplitude(output, frequencyHz, sampleRate) / Amplitude(sound, frequencyHz, sampleRate));
    }

    // Amplitude of the sine over the last second, by correlation.
    private static double Amplitude(float[] sound, double frequencyHz, int sampleRate)
    {
        double cosine = 0, sine = 0;
        for (int n = sound.Length - sampleRate; n < sound.Length; n++)
        {
            (double s, double c) = Math.SinCos(2 * Math.PI * frequencyHz * n / sampleRate);
            cosine += c * sound[n];
            sine += s * sound[n];
        }

        return 2 * Math.Sqrt(cosine * cosine + sine * sine) / sampleRate;
    }
}
