using LiveStems.Engine.Planning;
using LiveStems.Engine.RealTime;

namespace LiveStems.Engine.Live;

/// <summary>
/// Runs a plan before it is heard, so that the runtime compiles here, and not on the audio thread, all that it runs through.
/// </summary>
/// <remarks>
/// A limiter that never limits and a compressor that never compresses would compile the rest when the song becomes loud: so a
/// plan of our own processors, whose inputs nobody else uses yet, hears noise at full scale, for longer than it takes until
/// they look after tiny states.
/// </remarks>
internal static class PlanWarmUp
{
    /// <summary>Blocks that compile what every block runs through.</summary>
    public const int FewBlocks = 4;

    private const int LoudFrames = 8192;

    /// <summary>Runs a plan and sets it back.</summary>
    /// <param name="plan">The plan, not heard yet.</param>
    /// <param name="maximumFrames">The longest block.</param>
    /// <param name="isAlone">True when nobody else uses its inputs.</param>
    public static void Run(SongPlan plan, int maximumFrames, bool isAlone)
    {
        bool isLoud = isAlone && !plan.RunsForeignCode;
        int blocks = isLoud ? Math.Max(FewBlocks, (LoudFrames + maximumFrames - 1) / maximumFrames) : FewBlocks;
        Random noise = new(0);
        for (int i = 0; i < blocks; i++)
        {
            if (isLoud)
            {
                FillInputs(plan, noise);
            }

            plan.Plan.Run(maximumFrames);
        }

        if (isLoud)
        {
            FillInputs(plan, null);
        }

        plan.Plan.Reset();
    }

    // Both sides of their own, so that what works on their difference has something to do; without noise, silence.
    private static void FillInputs(SongPlan plan, Random? noise)
    {
        foreach (StereoBuffer input in plan.Sources.Pumps.Select(pump => pump.Feed.Input))
        {
            for (int i = 0; i < input.Left.Length; i++)
            {
                input.Left[i] = noise is null ? 0 : 2 * noise.NextSingle() - 1;
                input.Right[i] = noise is null ? 0 : 2 * noise.NextSingle() - 1;
            }
        }
    }
}
