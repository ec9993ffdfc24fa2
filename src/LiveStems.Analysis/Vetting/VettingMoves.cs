using LiveStems.Processing.Contract;

namespace LiveStems.Analysis.Vetting;

/// <summary>
/// Values that move while a processor runs: at fixed frames about half of its parameters, by lot, get another value, and glide
/// there. The same for every run.
/// </summary>
internal sealed class VettingMoves(ProcessorDescription kind)
{
    /// <summary>Frames from one move to the next, and so the longest block that runs while values move.</summary>
    /// <remarks>
    /// Longer than a glide (10 ms, 480 frames at 48 kHz), so that values also stand still; no multiple of a control interval,
    /// so that they move in the middle of one.
    /// </remarks>
    public const int Frames = 700;

    private readonly Random random = new(9);

    /// <summary>True where there is anything to move while it runs.</summary>
    public static bool AnyIn(ProcessorDescription kind) => kind.Parameters.Any(spec => !spec.IsStructural);

    /// <summary>Moves what is due before a frame.</summary>
    public void At(int frame, Processor processor)
    {
        if (frame % Frames != 0)
        {
            return;
        }

        for (int index = 0; index < kind.Parameters.Count; index++)
        {
            double travel = random.NextDouble();
            if (random.Next(2) == 0 && !kind.Parameters[index].IsStructural)
            {
                processor.SetParameter(index, kind.Parameters[index].FromTravel(travel));
            }
        }
    }

    /// <summary>Frames from a frame to the next move.</summary>
    public static int FramesToNext(int frame) => Frames - frame % Frames;
}
