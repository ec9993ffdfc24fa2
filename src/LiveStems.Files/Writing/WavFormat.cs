namespace LiveStems.Files.Writing;

/// <summary>The form of a WAV file to be written.</summary>
/// <param name="SampleRate">Frames per second, 8 000 to 384 000.</param>
/// <param name="BitsPerSample">16, 24 or 32; 32 when <paramref name="IsFloat"/>.</param>
/// <param name="IsFloat">Store IEEE 754 numbers in place of whole numbers.</param>
/// <param name="Channels">1 or 2.</param>
public sealed record WavFormat(int SampleRate, int BitsPerSample, bool IsFloat = false, int Channels = 2)
{
    /// <summary>Bytes of one frame.</summary>
    public int FrameBytes => BitsPerSample / 8 * Channels;

    /// <summary>Refuses a form that this program does not write.</summary>
    /// <exception cref="ArgumentException">A value is out of the range that its parameter names.</exception>
    internal void Check()
    {
        if (SampleRate is < AudioLimits.LowestSampleRate or > AudioLimits.HighestSampleRate)
        {
            throw new ArgumentException($"A sample rate of {SampleRate} Hz is not written; 8 000 to 384 000 Hz are.");
        }

        if (BitsPerSample is not (16 or 24 or 32) || (IsFloat && BitsPerSample != 32))
        {
            throw new ArgumentException(
                $"{BitsPerSample}-bit {(IsFloat ? "float" : "integer")} samples are not written; 16, 24, 32 and 32 float are.");
        }

        if (Channels is not (1 or 2))
        {
            throw new ArgumentException($"{Channels} channels are not written; 1 or 2 are.");
        }
    }
}
