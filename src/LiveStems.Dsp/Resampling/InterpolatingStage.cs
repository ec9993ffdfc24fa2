using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;
using LiveStems.Dsp.Simd;

namespace LiveStems.Dsp.Resampling;

/// <summary>
/// From a rate at which most of the band is empty to any other: every frame by taps of its own, interpolated.
/// </summary>
/// <remarks>Smith and Gossett, "A flexible sampling-rate conversion method", ICASSP 1984, with cubics instead of straight lines.</remarks>
internal sealed class InterpolatingStage : PairStage
{
    private const int OutputGroup = 256;

    private readonly ResamplingRatio ratio;
    private readonly InterpolationTable table;

    public InterpolatingStage(ResamplingRatio ratio, InterpolationTable table)
    {
        this.ratio = ratio;
        this.table = table;
        InputFrames = (int)Math.Ceiling((double)OutputGroup * ratio.Down / ratio.Up) + 1 + table.Taps;
    }

    public override int GroupFrames => OutputGroup;

    public override int InputFrames { get; }

    public override long FirstInput(long group) => ratio.Locate(group * OutputGroup).InputFrame - (table.Taps / 2 - 1);

    public override void Compute(long group, ReadOnlySpan<double> input, Span<double> output)
    {
        ref double source = ref MemoryMarshal.GetReference(input[..(2 * InputFrames)]);
        ref double target = ref MemoryMarshal.GetReference(output[..(2 * OutputGroup)]);
        if (table.Taps == 2 * InterpolationTable.Lanes)
        {
            Compute<TwoVectors>(group, ref source, ref target);
        }
        else
        {
            Compute<ThreeVectors>(group, ref source, ref target);
        }
    }

    private void Compute<TTaps>(long group, ref double source, ref double target)
        where TTaps : struct, IVectorsOfTaps
    {
        ref double cubics = ref table.Cubics.Start;
        ResamplingRatio positions = ratio;
        int phase = positions.Locate(group * OutputGroup).Phase;
        double stepsPerPhase = (double)InterpolationTable.StepCount / positions.Up;
        nint frame = 0;
        for (nuint m = 0; m < OutputGroup; m++)
        {
            double position = phase * stepsPerPhase;
            nint step = (nint)position;
            ref double row = ref Unsafe.Add(ref cubics, step * (CubicFit.Terms * TTaps.Count * InterpolationTable.Lanes));
            Vector512<double> at = Vector512.Create(position - step);
            ref double sound = ref Unsafe.Add(ref source, 2 * frame);
            (Vector512<double> first, Vector512<double> second) =
                AddProducts<TTaps>(0, ref row, at, ref sound, Vector512<double>.Zero, Vector512<double>.Zero);
            (first, second) = AddProducts<TTaps>(1, ref row, at, ref sound, first, second);
            if (TTaps.Count == 3)
            {
                (first, second) = AddProducts<TTaps>(2, ref row, at, ref sound, first, second);
            }

            Vector512<double> both = first + second;
            Vector256<double> halves = both.GetLower() + both.GetUpper();
            (halves.GetLower() + halves.GetUpper()).StoreUnsafe(ref target, 2 * m);
            frame += positions.Step(ref phase);
        }
    }

    /// <summary>Eight taps at the point asked for, times eight pairs.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static (Vector512<double> First, Vector512<double> Second) AddProducts<TTaps>(
        int vector, ref double row, Vector512<double> at, ref double sound, Vector512<double> first, Vector512<double> second)
        where TTaps : struct, IVectorsOfTaps
    {
        nuint tap = (nuint)(vector * InterpolationTable.Lanes);
        nuint term = (nuint)(TTaps.Count * InterpolationTable.Lanes);
        Vector512<double> taps = Vector512.LoadUnsafe(ref row, 3 * term + tap);
        taps = Vector512.FusedMultiplyAdd(taps, at, Vector512.LoadUnsafe(ref row, 2 * term + tap));
        taps = Vector512.FusedMultiplyAdd(taps, at, Vector512.LoadUnsafe(ref row, term + tap));
        taps = Vector512.FusedMultiplyAdd(taps, at, Vector512.LoadUnsafe(ref row, tap));
        return (
            Vector512.FusedMultiplyAdd(PairLanes.TwiceLower(taps), Vector512.LoadUnsafe(ref sound, 2 * tap), first),
            Vector512.FusedMultiplyAdd(PairLanes.TwiceUpper(taps), Vector512.LoadUnsafe(ref sound, 2 * tap + 8), second));
    }

    /// <summary>How many vectors of taps there are: as a type, so that the loops are written out.</summary>
    private interface IVectorsOfTaps
    {
        static abstract int Count { get; }
    }

    private readonly struct TwoVectors : IVectorsOfTaps
    {
        public static int Count => 2;
    }

    private readonly struct ThreeVectors : IVectorsOfTaps
    {
        public static int Count => 3;
    }
}
