using LiveStems.Dsp.Spectral;

namespace LiveStems.Analysis.Intake;

/// <summary>The spectra of both sides of one file, a half-overlapped Hann frame after the other.</summary>
internal sealed class SideSpectra
{
    private readonly RealFourierTransform transform;
    private readonly AnalysisWindow window;
    private readonly float[] windowed;
    private readonly float[][] sound;

    public SideSpectra(int size)
    {
        transform = new RealFourierTransform(size);
        window = AnalysisWindow.Hann(size);
        windowed = new float[size];
        sound = [new float[size], new float[size]];
        Real = [new float[transform.Bins], new float[transform.Bins]];
        Imaginary = [new float[transform.Bins], new float[transform.Bins]];
    }

    /// <summary>Real parts, left and right.</summary>
    public float[][] Real { get; }

    /// <summary>Imaginary parts, left and right.</summary>
    public float[][] Imaginary { get; }

    /// <summary>True when the frame holds any sound.</summary>
    public bool IsSounding { get; private set; }

    /// <summary>Where the next half frame of a side goes.</summary>
    public Span<float> Next(int side) => sound[side].AsSpan(transform.Size / 2);

    /// <summary>Transforms the frame that the last half completes, and makes room for the next.</summary>
    public void Advance()
    {
        IsSounding = false;
        for (int side = 0; side < 2; side++)
        {
            IsSounding |= sound[side].AsSpan().ContainsAnyExcept(0f);
            window.Apply(sound[side], windowed);
            transform.Forward(windowed, Real[side], Imaginary[side]);
            sound[side].AsSpan(transform.Size / 2).CopyTo(sound[side]);
        }
    }
}
