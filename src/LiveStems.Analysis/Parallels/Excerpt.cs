using LiveStems.Analysis.Comparing;
using LiveStems.Files.Writing;

namespace LiveStems.Analysis.Parallels;

/// <summary>A stretch of sound in memory.</summary>
internal sealed class Excerpt(float[] left, float[] right)
{
    public float[] Left { get; } = left;

    public float[] Right { get; } = right;

    /// <summary>A stretch of both sounds of a pair.</summary>
    public static (Excerpt First, Excerpt Second) Of(SoundPair pair, double from, double to, CancellationToken cancellation)
    {
        List<float>[] sound = [[], [], [], []];
        pair.Walk(
            from,
            to,
            (firstLeft, firstRight, secondLeft, secondRight) =>
            {
                sound[0].AddRange(firstLeft);
                sound[1].AddRange(firstRight);
                sound[2].AddRange(secondLeft);
                sound[3].AddRange(secondRight);
            },
            cancellation);
        return (new Excerpt([.. sound[0]], [.. sound[1]]), new Excerpt([.. sound[2]], [.. sound[3]]));
    }

    /// <summary>This and another, scaled.</summary>
    public (float[] Left, float[] Right) Plus(Excerpt other, double gain)
    {
        float[] sumLeft = [.. Left];
        float[] sumRight = [.. Right];
        for (int i = 0; i < Math.Min(sumLeft.Length, other.Left.Length); i++)
        {
            sumLeft[i] += (float)(gain * other.Left[i]);
            sumRight[i] += (float)(gain * other.Right[i]);
        }

        return (sumLeft, sumRight);
    }

    /// <summary>Writes it to a 32-bit float file.</summary>
    public void Save(string path, int sampleRate)
    {
        using WavWriter writer = new(path, new WavFormat(sampleRate, 32, IsFloat: true));
        writer.Write(Left, Right);
        writer.Complete();
    }
}
