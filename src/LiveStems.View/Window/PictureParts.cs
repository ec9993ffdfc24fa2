using System.Globalization;

namespace LiveStems.View.Window;

/// <summary>Where the time of a picture goes, and what the slow ones spent it on.</summary>
internal sealed class PictureParts
{
    /// <summary>Pictures that took longer are counted as slow: a person notices them.</summary>
    public const double SlowSeconds = 0.1;

    private readonly double[] sums = new double[Enum.GetValues<PicturePart>().Length];
    private readonly double[] worst = new double[Enum.GetValues<PicturePart>().Length];
    private readonly double[] now = new double[Enum.GetValues<PicturePart>().Length];
    private double longest;
    private long pictures;

    /// <summary>Pictures that took longer than <see cref="SlowSeconds"/>.</summary>
    public long Slow { get; private set; }

    /// <summary>Sets the time that a part of the present picture took, in seconds.</summary>
    public void Set(PicturePart part, double seconds) => now[(int)part] = seconds;

    /// <summary>Begins anew.</summary>
    public void Clear()
    {
        Array.Clear(sums);
        Array.Clear(worst);
        (longest, pictures, Slow) = (0, 0, 0);
    }

    /// <summary>The present picture is done.</summary>
    public void Close()
    {
        double whole = 0;
        for (int i = 0; i < now.Length; i++)
        {
            whole += now[i];
            sums[i] += now[i];
        }

        pictures++;
        Slow += whole > SlowSeconds ? 1 : 0;
        if (whole > longest)
        {
            longest = whole;
            now.CopyTo(worst, 0);
        }

        Array.Clear(now);
    }

    /// <summary>"in the mean update 0.4, layout 0.1, …; longest 120 ms: …".</summary>
    public override string ToString() => pictures == 0
        ? "no picture"
        : string.Create(CultureInfo.InvariantCulture, $"{Slow} above {SlowSeconds * 1000:0} ms; in the mean {Words(sums, pictures)}; the longest {longest * 1000:0} ms: {Words(worst, 1)}");

    private static string Words(double[] seconds, double divisor) => string.Join(
        ", ",
        Enum.GetValues<PicturePart>().Select(part => string.Create(CultureInfo.InvariantCulture, $"{part.ToString().ToLowerInvariant()} {seconds[(int)part] / divisor * 1000:0.0}")));
}

/// <summary>Parts of the time of a picture, in their order.</summary>
internal enum PicturePart
{
    /// <summary>The screen takes in what is new.</summary>
    Update,

    /// <summary>Places are given.</summary>
    Layout,

    /// <summary>Words and controls are painted.</summary>
    Paint,

    /// <summary>Plots are drawn and all is put together.</summary>
    Plots,

    /// <summary>OpenGL finishes what was asked for.</summary>
    Finish,

    /// <summary>The picture goes to the screen.</summary>
    Show,
}
