using LiveStems.Dsp;
using LiveStems.Engine.Live;

namespace LiveStems.View.Desk;

/// <summary>Levels at both ends of a chain, sample peaks that fall back, and the gain reduction between.</summary>
public sealed class PathMeter
{
    private readonly LivePlayer player;
    private readonly SlotMeters slots;
    private readonly TapPlace place;
    private readonly FallingPeak input = new();
    private readonly FallingPeak left = new();
    private readonly FallingPeak right = new();

    internal PathMeter(LivePlayer player, SlotMeters slots, TapPlace place)
    {
        this.player = player;
        this.slots = slots;
        this.place = place;
    }

    /// <summary>Largest sample before the chain in dBFS.</summary>
    public double InputPeakDbfs => input.Db;

    /// <summary>Largest sample after the chain in dBFS, both sides.</summary>
    public double OutputPeakDbfs => Math.Max(left.Db, right.Db);

    /// <summary>Largest left sample after the chain in dBFS.</summary>
    public double LeftPeakDbfs => left.Db;

    /// <summary>Largest right sample after the chain in dBFS.</summary>
    public double RightPeakDbfs => right.Db;

    /// <summary>Largest magnitude before the chain between the last two pictures, full scale 1.</summary>
    public double LatestInput { get; private set; }

    /// <summary>Largest magnitude after the chain between the last two pictures.</summary>
    public double LatestOutput { get; private set; }

    /// <summary>Gain reduction of all processors of the chain together in dB, 0 or below; goes back as meters fall.</summary>
    public double ReductionDb { get; private set; }

    /// <summary>True once a sample after the chain has reached full scale; until <see cref="ClearOver"/>.</summary>
    public bool HasReachedFullScale { get; private set; }

    /// <summary>Forgets that full scale was reached.</summary>
    public void ClearOver() => HasReachedFullScale = false;

    internal void Update(double seconds)
    {
        (float inLeft, float inRight) = player.TakeInputPeaks(place);
        (float outLeft, float outRight) = player.TakeOutputPeaks(place);
        input.Add(Math.Max(inLeft, inRight), seconds);
        left.Add(outLeft, seconds);
        right.Add(outRight, seconds);
        LatestInput = Math.Max(inLeft, inRight);
        LatestOutput = Math.Max(outLeft, outRight);
        ReductionDb = Math.Min(slots.TotalDb(place), Math.Min(0, ReductionDb + FallingPeak.FallDbPerSecond * seconds));
        HasReachedFullScale |= LatestOutput >= 1;
    }
}
