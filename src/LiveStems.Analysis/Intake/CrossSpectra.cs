using System.Numerics;

namespace LiveStems.Analysis.Intake;

/// <summary>
/// The cross-spectra of several signals, each with each and itself, added up over frames, for either side (J. S. Bendat and
/// A. G. Piersol, "Random Data", chapter 11). Memory depends on the number of signals and bins alone.
/// </summary>
internal sealed class CrossSpectra
{
    private readonly int signals;
    private readonly double[][] real;
    private readonly double[][] imaginary;
    private int leftOut;

    public CrossSpectra(int signals, int size)
    {
        this.signals = signals;
        Size = size;
        int pairs = PairsOf(signals);
        real = [.. Enumerable.Range(0, 2 * pairs).Select(_ => new double[Bins])];
        imaginary = [.. Enumerable.Range(0, 2 * pairs).Select(_ => new double[Bins])];
    }

    /// <summary>Samples of a frame.</summary>
    public int Size { get; }

    /// <summary>Bins of a frame.</summary>
    public int Bins => Size / 2 + 1;

    /// <summary>Frames with any sound in them.</summary>
    public int Frames { get; private set; }

    /// <summary>Share of the frames that was left out.</summary>
    public double LeftOutShare => leftOut == 0 ? 0 : (double)leftOut / (leftOut + Frames);

    /// <summary>Bytes it takes.</summary>
    public static long Memory(int signals, int size) => 2L * PairsOf(signals) * (size / 2 + 1) * 2 * sizeof(double);

    /// <summary>Adds a frame of every signal.</summary>
    public void Add(SideSpectra[] spectra)
    {
        if (!spectra.Any(each => each.IsSounding))
        {
            return;
        }

        Frames++;
        Parallel.For(0, signals, first =>
        {
            for (int second = first; second < signals; second++)
            {
                if (spectra[first].IsSounding && spectra[second].IsSounding)
                {
                    for (int side = 0; side < 2; side++)
                    {
                        int place = Place(first, second, side);
                        AddProduct(spectra[first], spectra[second], side, real[place], imaginary[place]);
                    }
                }
            }
        });
    }

    /// <summary>Counts a frame that says nothing.</summary>
    public void LeaveOut() => leftOut++;

    /// <summary>Σ conj(first) · second in a bin of a side.</summary>
    public Complex At(int first, int second, int side, int bin)
    {
        int place = Place(Math.Min(first, second), Math.Max(first, second), side);
        return new Complex(real[place][bin], first <= second ? imaginary[place][bin] : -imaginary[place][bin]);
    }

    /// <summary>Σ |signal|² in a bin of a side.</summary>
    public double Power(int signal, int side, int bin) => real[Place(signal, signal, side)][bin];

    private static int PairsOf(int signals) => signals * (signals + 1) / 2;

    private int Place(int first, int second, int side) => 2 * (first * signals - first * (first - 1) / 2 + second - first) + side;

    private static void AddProduct(SideSpectra first, SideSpectra second, int side, double[] sumReal, double[] sumImaginary)
    {
        float[] ar = first.Real[side], ai = first.Imaginary[side], br = second.Real[side], bi = second.Imaginary[side];
        int k = 0;
        for (; k <= ar.Length - Vector<float>.Count; k += Vector<float>.Count)
        {
            Vector.Widen(new Vector<float>(ar, k), out Vector<double> arLow, out Vector<double> arHigh);
            Vector.Widen(new Vector<float>(ai, k), out Vector<double> aiLow, out Vector<double> aiHigh);
            Vector.Widen(new Vector<float>(br, k), out Vector<double> brLow, out Vector<double> brHigh);
            Vector.Widen(new Vector<float>(bi, k), out Vector<double> biLow, out Vector<double> biHigh);
            int high = k + Vector<double>.Count;
            (new Vector<double>(sumReal, k) + arLow * brLow + aiLow * biLow).CopyTo(sumReal, k);
            (new Vector<double>(sumReal, high) + arHigh * brHigh + aiHigh * biHigh).CopyTo(sumReal, high);
            (new Vector<double>(sumImaginary, k) + arLow * biLow - aiLow * brLow).CopyTo(sumImaginary, k);
            (new Vector<double>(sumImaginary, high) + arHigh * biHigh - aiHigh * brHigh).CopyTo(sumImaginary, high);
        }

        for (; k < ar.Length; k++)
        {
            sumReal[k] += (double)ar[k] * br[k] + (double)ai[k] * bi[k];
            sumImaginary[k] += (double)ar[k] * bi[k] - (double)ai[k] * br[k];
        }
    }
}
