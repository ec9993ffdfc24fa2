namespace LiveStems.App.Demo.Mixing;

/// <summary>A mono track and two copies whose delay sways, one to each side.</summary>
internal static class Chorus
{
    /// <summary>Spreads a mono track to stereo.</summary>
    /// <param name="mono">The track.</param>
    /// <param name="sampleRate">Sample rate in Hz.</param>
    /// <param name="depthMs">How far the delay sways.</param>
    /// <param name="rateHertz">How often.</param>
    /// <param name="mix">Share of the copies, 0 to 1.</param>
    public static StereoTrack Spread(float[] mono, int sampleRate, double depthMs, double rateHertz, double mix)
    {
        var track = new StereoTrack(mono.Length, sampleRate);
        Sway(mono, track.Left, sampleRate, depthMs, rateHertz, 0, mix);
        Sway(mono, track.Right, sampleRate, depthMs, rateHertz, 0.37, mix);
        return track;
    }

    private static void Sway(
        float[] mono, float[] output, int sampleRate, double depthMs, double rateHertz, double phase, double mix)
    {
        double centre = (4 + depthMs) * sampleRate / 1000;
        double depth = depthMs * sampleRate / 1000;
        float wet = (float)mix;
        int first = (int)(centre + depth) + 2;
        mono.AsSpan(0, Math.Min(first, mono.Length)).CopyTo(output);
        for (int i = first; i < mono.Length; i++)
        {
            double at = i - centre - depth * SineTable.Turn(phase + rateHertz * i / sampleRate);
            int index = (int)at;
            float share = (float)(at - index);
            float delayed = mono[index] + share * (mono[index + 1] - mono[index]);
            output[i] = mono[i] + wet * (delayed - mono[i] * 0.35f);
        }
    }
}
