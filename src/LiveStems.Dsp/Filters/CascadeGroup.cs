using System.Runtime.Intrinsics;
using LiveStems.Dsp.Simd;

namespace LiveStems.Dsp.Filters;

/// <summary>
/// Runs several <see cref="StereoCascade"/>s over sounds of their own, four at a time in the eight lanes of a vector. Each
/// gives the same bits as alone: every lane goes through the operations of <see cref="StageCoefficients"/>.
/// </summary>
/// <remarks>
/// The sections of a cascade stand in the order in which they run; where one cascade has fewer than its neighbours, its
/// lanes pass the sound on. Allocates in the constructor only. Not for use from two threads.
/// </remarks>
public sealed class CascadeGroup
{
    /// <summary>Cascades that share a vector.</summary>
    public const int Lanes = 4;

    private const int ChunkFrames = 128;

    private readonly StereoCascade[] cascades;
    private readonly Vector512<double>[] coefficients;
    private readonly Vector512<double>[] states;
    private readonly AlignedMemory<Vector512<double>> frames = new(ChunkFrames);
    private readonly float[] idle = new float[ChunkFrames];
    private readonly int[] versions;
    private int places;

    /// <summary>A group of cascades, which go on to belong to whoever made them.</summary>
    /// <param name="cascades">One to <see cref="Lanes"/> cascades.</param>
    public CascadeGroup(IReadOnlyList<StereoCascade> cascades)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(cascades.Count, 1);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(cascades.Count, Lanes);
        this.cascades = [.. cascades];
        int capacity = cascades.Max(cascade => cascade.Capacity);
        coefficients = new Vector512<double>[capacity * GroupKernels.CoefficientsAPlace];
        states = new Vector512<double>[capacity * GroupKernels.StatesAPlace];
        versions = [.. Enumerable.Repeat(-1, cascades.Count)];
    }

    /// <summary>True where it is faster than one cascade after the other.</summary>
    public static bool IsSupported => EightRows.IsSupported;

    /// <summary>Filters a stretch of sounds in place, one for each cascade in their order.</summary>
    /// <param name="sounds">Planar stereo.</param>
    /// <param name="start">Where the stretch begins.</param>
    /// <param name="length">Its frames.</param>
    public void Process(ReadOnlySpan<PlanarStereo> sounds, int start, int length)
    {
        if (!IsSupported || cascades.Length == 1 || IsAnyGliding())
        {
            for (int i = 0; i < cascades.Length; i++)
            {
                cascades[i].Process(sounds[i].Left.AsSpan(start, length), sounds[i].Right.AsSpan(start, length));
            }

            return;
        }

        Compile();
        if (places == 0)
        {
            return;
        }

        LoadStates();
        for (int done = 0; done < length; done += ChunkFrames)
        {
            Span<Vector512<double>> part = frames.Span[..Math.Min(ChunkFrames, length - done)];
            GroupFrames.Gather(sounds, start + done, part, idle);
            GroupKernels.Run(part, coefficients, states, places);
            GroupFrames.Scatter(part, sounds, start + done, idle);
        }

        StoreStates();
    }

    private bool IsAnyGliding()
    {
        bool isAny = false;
        foreach (StereoCascade cascade in cascades)
        {
            isAny |= cascade.Settle();
        }

        return isAny;
    }

    // Takes the coefficients over when any cascade has changed.
    private void Compile()
    {
        bool isCurrent = true;
        for (int i = 0; i < cascades.Length; i++)
        {
            isCurrent &= versions[i] == cascades[i].Version;
            versions[i] = cascades[i].Version;
        }

        if (isCurrent)
        {
            return;
        }

        places = cascades.Max(cascade => cascade.ActiveSections);
        Span<double> values = stackalloc double[GroupKernels.CoefficientsAPlace];
        for (int place = 0; place < places; place++)
        {
            Span<Vector512<double>> row = coefficients.AsSpan(place * GroupKernels.CoefficientsAPlace, GroupKernels.CoefficientsAPlace);
            row.Clear();
            row[GroupKernels.FromX] = Vector512<double>.One;
            for (int i = 0; i < cascades.Length; i++)
            {
                if (cascades[i].SectionAt(place) is int section and >= 0)
                {
                    cascades[i].WriteCoefficients(section, values);
                    for (int j = 0; j < values.Length; j++)
                    {
                        row[j] = row[j].WithElement(2 * i, values[j]).WithElement(2 * i + 1, values[j]);
                    }
                }
            }
        }
    }

    private void LoadStates()
    {
        for (int place = 0; place < places; place++)
        {
            Vector512<double> r = default;
            Vector512<double> s = default;
            for (int i = 0; i < cascades.Length; i++)
            {
                if (cascades[i].SectionAt(place) is int section and >= 0)
                {
                    (Vector128<double> ownR, Vector128<double> ownS) = cascades[i].StateOf(section);
                    r = r.WithElement(2 * i, ownR.ToScalar()).WithElement(2 * i + 1, ownR.GetElement(1));
                    s = s.WithElement(2 * i, ownS.ToScalar()).WithElement(2 * i + 1, ownS.GetElement(1));
                }
            }

            states[place * GroupKernels.StatesAPlace] = r;
            states[place * GroupKernels.StatesAPlace + 1] = s;
        }
    }

    private void StoreStates()
    {
        for (int place = 0; place < places; place++)
        {
            Vector512<double> r = states[place * GroupKernels.StatesAPlace];
            Vector512<double> s = states[place * GroupKernels.StatesAPlace + 1];
            for (int i = 0; i < cascades.Length; i++)
            {
                if (cascades[i].SectionAt(place) is int section and >= 0)
                {
                    cascades[i].SetState(
                        section,
                        Vector128.Create(r.GetElement(2 * i), r.GetElement(2 * i + 1)),
                        Vector128.Create(s.GetElement(2 * i), s.GetElement(2 * i + 1)));
                }
            }
        }
    }
}
