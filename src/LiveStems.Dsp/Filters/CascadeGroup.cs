using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;
using LiveStems.Dsp.Simd;

namespace LiveStems.Dsp.Filters;

/// <summary>
/// Runs several <see cref="StereoCascade"/>s over sounds of their own, four at a time in the eight lanes of a vector, or two
/// with two sections each. Each gives the same bits as alone: every lane goes through the operations of
/// <see cref="StageCoefficients"/>.
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
    private const int Channels = 2 * Lanes;

    private readonly StereoCascade[] cascades;
    private readonly Vector512<double>[] coefficients;
    private readonly Vector512<double>[] states;
    private readonly AlignedMemory<Vector512<double>> frames = new(ChunkFrames);
    private readonly float[] idle = new float[ChunkFrames];
    private readonly int[] versions;
    private int places;

    // Places that share a vector: two where two cascades would leave half of it empty.
    private int placesAVector = 1;

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
        if (placesAVector == 2)
        {
            RunTwins(sounds, start, length);
        }
        else
        {
            RunFour(sounds, start, length);
        }

        StoreStates();
    }

    private void RunFour(ReadOnlySpan<PlanarStereo> sounds, int start, int length)
    {
        for (int done = 0; done < length; done += ChunkFrames)
        {
            Span<Vector512<double>> part = frames.Span[..Math.Min(ChunkFrames, length - done)];
            GroupFrames.Gather(sounds, start + done, part, idle);
            GroupKernels.Run(part, coefficients, states, places);
            GroupFrames.Scatter(part, sounds, start + done, idle);
        }
    }

    // Frames of two sounds are half as long, so twice as many have room.
    private void RunTwins(ReadOnlySpan<PlanarStereo> sounds, int start, int length)
    {
        Span<Vector256<double>> room = TwinKernels.Halves(frames.Span);
        for (int done = 0; done < length; done += room.Length)
        {
            Span<Vector256<double>> part = room[..Math.Min(room.Length, length - done)];
            TwinFrames.Gather(sounds[0], sounds[1], start + done, part);
            TwinKernels.Run(part, coefficients, states, places);
            TwinFrames.Scatter(part, sounds[0], sounds[1], start + done);
        }
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
        placesAVector = cascades.Length == 2 && places >= TwinKernels.FewestPlaces ? 2 : 1;
        Span<double> values = stackalloc double[GroupKernels.CoefficientsAPlace];
        for (int vector = 0; vector < VectorsInUse; vector++)
        {
            Span<double> row = NumbersOf(coefficients, vector, GroupKernels.CoefficientsAPlace);
            row.Clear();
            row.Slice(GroupKernels.FromX * Channels, Channels).Fill(1);
        }

        for (int place = 0; place < places; place++)
        {
            Span<double> row = NumbersOf(coefficients, place / placesAVector, GroupKernels.CoefficientsAPlace);
            for (int i = 0; i < cascades.Length; i++)
            {
                if (cascades[i].SectionAt(place) is int section and >= 0)
                {
                    cascades[i].WriteCoefficients(section, values);
                    for (int j = 0; j < values.Length; j++)
                    {
                        row.Slice(j * Channels + Lane(place, i), 2).Fill(values[j]);
                    }
                }
            }
        }
    }

    private void LoadStates()
    {
        NumbersOf(states, 0, GroupKernels.StatesAPlace * VectorsInUse).Clear();
        for (int place = 0; place < places; place++)
        {
            Span<double> row = NumbersOf(states, place / placesAVector, GroupKernels.StatesAPlace);
            for (int i = 0; i < cascades.Length; i++)
            {
                if (cascades[i].SectionAt(place) is int section and >= 0)
                {
                    (Vector128<double> r, Vector128<double> s) = cascades[i].StateOf(section);
                    r.CopyTo(row[Lane(place, i)..]);
                    s.CopyTo(row[(Channels + Lane(place, i))..]);
                }
            }
        }
    }

    private void StoreStates()
    {
        for (int place = 0; place < places; place++)
        {
            ReadOnlySpan<double> row = NumbersOf(states, place / placesAVector, GroupKernels.StatesAPlace);
            for (int i = 0; i < cascades.Length; i++)
            {
                if (cascades[i].SectionAt(place) is int section and >= 0)
                {
                    cascades[i].SetState(section, Vector128.Create(row[Lane(place, i)..]), Vector128.Create(row[(Channels + Lane(place, i))..]));
                }
            }
        }
    }

    private int VectorsInUse => placesAVector == 2 ? TwinKernels.VectorsFor(places) : places;

    private int Lane(int place, int cascade) => place % placesAVector * (Channels / 2) + 2 * cascade;

    // The vectors of a place as the numbers in them, eight channels a vector.
    private static Span<double> NumbersOf(Vector512<double>[] vectors, int place, int vectorsAPlace) =>
        MemoryMarshal.Cast<Vector512<double>, double>(vectors.AsSpan(place * vectorsAPlace, vectorsAPlace));
}
