using LiveStems.Dsp;
using LiveStems.Engine.Hosting;
using LiveStems.Processing.Contract;

namespace LiveStems.Analysis.Vetting;

/// <summary>What comes out is a number, and no shock, whatever goes in.</summary>
internal static class ToleranceChecks
{
    private const int Frames = 24_000;
    private const int Block = 256;
    private const int RandomSettings = 8;

    /// <summary>The level in dBFS above which the program takes a processor out.</summary>
    public const double LoudestDbfs = 24;

    public static VettingFinding? OrdinarySound(Func<Processor> make, VettingSituation situation)
    {
        (float[] left, float[] right) = VettingRun.Noise(Frames, 3);
        (float[] Left, float[] Right) output = new VettingRun(make, Block, situation).Run(left, right, Block);
        if (!VettingRun.IsFinite(output))
        {
            return new VettingFinding("sound", true, $"gives what is no number from plain noise{situation.Words}");
        }

        double peak = Decibels.FromAmplitude(output.Left.Concat(output.Right).Max(Math.Abs));
        return peak > LoudestDbfs
            ? new VettingFinding("sound", true, $"makes {peak:+0.0} dBFS of noise at −12 dBFS{(situation.Words.Length == 0 ? ", with the settings of a new one" : situation.Words)}")
            : null;
    }

    /// <summary>How many trials there are of a kind of processor at the extremes: each parameter at both its ends, then all at random.</summary>
    public static int ExtremesOf(ProcessorDescription kind) => 2 * kind.Parameters.Count + RandomSettings;

    /// <summary>One trial of <see cref="ExtremesOf"/>: extreme sounds, and as a key where it hears one.</summary>
    public static VettingFinding? Extremes(Func<Processor> make, int trial, VettingSituation situation)
    {
        VettingRun run = new(make, Block, situation, processor => Set(processor, trial));
        float[] plain = Sounds().Last().Sound;
        foreach ((string name, float[] sound) in Sounds())
        {
            float[] stem = situation.HasKey ? plain : sound;
            if (!VettingRun.IsFinite(run.Run(stem, stem, Block, key: sound)))
            {
                return new VettingFinding("extremes", true, $"gives what is no number from {(situation.HasKey ? "a key that is " : string.Empty)}{name}{Words(run.Processor, trial)}");
            }

            run.Processor.Reset();
        }

        return null;
    }

    public static VettingFinding? NonFinite(Func<Processor> make, VettingSituation situation)
    {
        (float[] left, float[] right) = VettingRun.Noise(Frames, 4);
        (float[], float[]) fresh = new VettingRun(make, Block, situation).Run(left, right, Block);
        VettingRun run = new(make, Block, situation);
        float[] broken = [.. left.Take(1000)];
        broken[100] = float.NaN;
        broken[700] = float.PositiveInfinity;
        run.Run(broken, broken, Block, key: broken);
        run.Processor.Reset();
        return VettingRun.AreSame(fresh, run.Run(left, right, Block))
            ? null
            : new VettingFinding("non-finite", false, $"does not recover from what is no number by a reset{situation.Words}");
    }

    private static IEnumerable<(string Name, float[] Sound)> Sounds()
    {
        const int Length = 4800;
        yield return ("silence", new float[Length]);
        yield return ("the tiniest numbers", [.. Enumerable.Repeat(1e-40f, Length)]);
        yield return ("a constant of full scale", [.. Enumerable.Repeat(1f, Length)]);
        yield return ("an impulse", [.. Enumerable.Range(0, Length).Select(i => i == 77 ? 1f : 0f)]);
        yield return ("a square wave at +20 dBFS", [.. Enumerable.Range(0, Length).Select(i => i / 50 % 2 == 0 ? 10f : -10f)]);
    }

    private static void Set(Processor processor, int trial)
    {
        IReadOnlyList<ParameterSpec> parameters = processor.Description.Parameters;
        if (trial < 2 * parameters.Count)
        {
            ParameterSpec spec = parameters[trial / 2];
            processor.SetParameter(trial / 2, trial % 2 == 0 ? spec.Minimum : spec.Maximum);
            return;
        }

        Random random = new(trial);
        for (int i = 0; i < parameters.Count; i++)
        {
            processor.SetParameter(i, parameters[i].FromTravel(random.NextDouble()));
        }
    }

    private static string Words(Processor processor, int trial)
    {
        IReadOnlyList<ParameterSpec> parameters = processor.Description.Parameters;
        return trial >= 2 * parameters.Count ? " at some settings" : $" with {parameters[trial / 2].Id} at its {(trial % 2 == 0 ? "lowest" : "highest")}";
    }
}
