namespace LiveStems.Conformance.Loudness;

/// <summary>
/// A test programme made of stretches of one sine, in phase on both channels, whose phase runs on from stretch to
/// stretch. Levels are peak levels of each channel in dBFS.
/// </summary>
internal sealed class ToneProgramme(int sampleRate, double frequency = 1000)
{
    private readonly List<float> samples = [];

    public int SampleRate => sampleRate;

    public float[] Samples => [.. samples];

    public ToneProgramme Tone(double peakDbfs, double seconds)
    {
        double amplitude = Math.Pow(10, peakDbfs / 20);
        return Append(seconds, amplitude);
    }

    public ToneProgramme Silence(double seconds) => seconds > 0 ? Append(seconds, 0) : this;

    private ToneProgramme Append(double seconds, double amplitude)
    {
        int end = samples.Count + (int)Math.Round(seconds * sampleRate);
        for (int n = samples.Count; n < end; n++)
        {
            samples.Add((float)(amplitude * Math.Sin(2 * Math.PI * frequency * n / sampleRate)));
        }

        return this;
    }
}
