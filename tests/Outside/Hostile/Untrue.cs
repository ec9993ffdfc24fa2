using LiveStems.Processing.Contract;

namespace Outside.Hostile;

/// <summary>What is well as a new one that hears itself, and is bad in one situation only: a key, a setting, a sound.</summary>
public abstract class Untrue : Processor
{
    /// <summary>With one parameter from 0 to 24, 0 for a new one.</summary>
    protected Untrue(string id, ParameterSpec? only = null, bool listens = false)
        : base(new ProcessorDescription(id, id, 1, "Breaks the contract where few would look.", only is null ? [] : [only], listens))
    {
    }

    /// <summary>The largest value of the parameter.</summary>
    protected const double Most = 24;

    /// <summary>The parameter that they have where they have one.</summary>
    protected static ParameterSpec Only(bool isStructural) =>
        new("depth", "Depth", ParameterUnit.None, 0, Most, 0, Taper.Linear, "At its highest all is lost.") { IsStructural = isStructural };

    /// <inheritdoc/>
    protected override void OnPrepare()
    {
    }

    /// <inheritdoc/>
    protected override void OnReset()
    {
    }

    /// <inheritdoc/>
    protected override void OnParametersMoved()
    {
    }
}

/// <summary>Gives what is no number as soon as another sound than its own is its key.</summary>
public sealed class CannotBearAKey() : Untrue("hostile-key", listens: true)
{
    /// <inheritdoc/>
    protected override void ProcessSegment(in StereoBlock segment)
    {
        if (segment.KeyLeft[0] != segment.Left[0])
        {
            segment.Left[0] = float.NaN;
        }
    }
}

/// <summary>Declares another latency than it has where its structural parameter is at its highest.</summary>
public sealed class LiesAboutLatencyAtMost() : Untrue("hostile-latency-at-max", Only(isStructural: true))
{
    /// <inheritdoc/>
    public override int LatencyFrames => Value(0) < Most ? 0 : 480;

    /// <inheritdoc/>
    protected override void ProcessSegment(in StereoBlock segment)
    {
    }
}

/// <summary>Is later than it declares, after two seconds.</summary>
public sealed class IsLaterThanItSays() : Untrue("hostile-later", Only(isStructural: true))
{
    private const int Untold = 1000;

    private float[] held = [];
    private int position;

    /// <inheritdoc/>
    public override int LatencyFrames => Value(0) < Most ? 0 : 2 * Format.SampleRate;

    /// <inheritdoc/>
    protected override void OnPrepare() => held = new float[Value(0) < Most ? 1 : LatencyFrames + Untold];

    /// <inheritdoc/>
    protected override void OnReset()
    {
        Array.Clear(held);
        position = 0;
    }

    /// <inheritdoc/>
    protected override void ProcessSegment(in StereoBlock segment)
    {
        for (int i = 0; i < segment.Frames && held.Length > 1; i++)
        {
            (segment.Left[i], held[position]) = (held[position], segment.Left[i]);
            position = (position + 1) % held.Length;
        }
    }
}

/// <summary>Sounds different in other blocks while its value moves.</summary>
public sealed class CountsBlocksOnTheMove() : Untrue("hostile-moving", Only(isStructural: false))
{
    /// <inheritdoc/>
    protected override void ProcessSegment(in StereoBlock segment)
    {
        if (IsGliding)
        {
            segment.Left[0] *= 0.5f;
        }
    }
}

/// <summary>Gives what is no number where its parameter is at its highest.</summary>
public sealed class CannotBearTheMost() : Untrue("hostile-extremes", Only(isStructural: false))
{
    /// <inheritdoc/>
    protected override void ProcessSegment(in StereoBlock segment)
    {
        if (Value(0) == Most)
        {
            segment.Left[0] = float.NaN;
        }
    }
}

/// <summary>Clears its state by a multiplication with nothing, which what is no number survives.</summary>
public sealed class NeverRecovers() : Untrue("hostile-stays-nan")
{
    private float last;

    /// <inheritdoc/>
    protected override void OnReset() => last *= 0;

    /// <inheritdoc/>
    protected override void ProcessSegment(in StereoBlock segment)
    {
        for (int i = 0; i < segment.Frames; i++)
        {
            last = 0.5f * last + 0.5f * segment.Left[i];
            segment.Left[i] = last;
        }
    }
}

/// <summary>Counts for ever where there is nothing to do: some hundred times as long as in sound.</summary>
public sealed class LaboursInSilence() : Untrue("hostile-silence")
{
    private const int Turns = 4000;

    /// <summary>So that nobody leaves the labour out.</summary>
    public double Sum { get; private set; }

    /// <inheritdoc/>
    protected override void ProcessSegment(in StereoBlock segment)
    {
        for (int turn = 0; turn < (segment.Left[^1] == 0 ? Turns : 1); turn++)
        {
            Sum = Math.Sin(Sum + 1);
        }
    }
}

/// <summary>Takes several times as long for a block as the block lasts.</summary>
public sealed class IsTooSlow() : Untrue("hostile-slow")
{
    // A sine takes 5 to 20 ns (common practice): at least 30 µs for each frame, which lasts 20.8 µs at 48 kHz.
    private const int TurnsPerFrame = 6000;

    /// <summary>So that nobody leaves the labour out.</summary>
    public double Sum { get; private set; }

    /// <inheritdoc/>
    protected override void ProcessSegment(in StereoBlock segment)
    {
        for (int turn = 0; turn < segment.Frames * TurnsPerFrame; turn++)
        {
            Sum = Math.Sin(Sum + 1);
        }
    }
}
