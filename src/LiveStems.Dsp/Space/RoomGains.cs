using LiveStems.Dsp.Simd;

namespace LiveStems.Dsp.Space;

/// <summary>The gains between the parts of a room, each on its way through the control interval.</summary>
internal readonly record struct RoomGains(Ramp Dry, Ramp LateMiddle, Ramp LateSide, Ramp EarlyMiddle, Ramp EarlySide, Ramp EarlyCrossed, Ramp SideIn, Ramp MiddleIn)
{
    /// <summary>Gains that stand still.</summary>
    public static RoomGains Still(in RoomSettings settings)
    {
        Targets to = new(settings);
        return new(
            new(to.Dry), new(to.LateMiddle), new(to.LateSide), new(to.EarlyMiddle), new(to.EarlySide), new(to.EarlyCrossed), new(to.SideIn), new(to.MiddleIn));
    }

    /// <summary>The gains of the next interval.</summary>
    public RoomGains Towards(in RoomSettings settings, int frames)
    {
        Targets to = new(settings);
        return new(
            Dry.Towards(to.Dry, frames),
            LateMiddle.Towards(to.LateMiddle, frames),
            LateSide.Towards(to.LateSide, frames),
            EarlyMiddle.Towards(to.EarlyMiddle, frames),
            EarlySide.Towards(to.EarlySide, frames),
            EarlyCrossed.Towards(to.EarlyCrossed, frames),
            SideIn.Towards(to.SideIn, frames),
            MiddleIn.Towards(to.MiddleIn, frames));
    }

    // The middle's answer and the side's have no phase in common, so their powers add: together they are kept at 1 whatever the
    // width. At full spread a mono sound is answered equally by both, and its left and right have nothing in common either.
    private readonly struct Targets
    {
        public Targets(in RoomSettings s)
        {
            double both = 1 / Math.Sqrt(1 + s.Width * s.Width);
            double fed = 1 / Math.Sqrt(1 + s.Spread * s.Spread);
            Dry = (float)s.DryGain;
            LateMiddle = (float)(s.WetGain * both);
            LateSide = (float)(s.WetGain * both * s.Width);
            EarlyMiddle = (float)(s.WetGain * both * s.EarlyGain);
            EarlySide = (float)(s.WetGain * both * s.Width * s.EarlyGain * fed);
            EarlyCrossed = (float)(s.WetGain * both * s.Width * s.EarlyGain * s.Spread);
            SideIn = (float)fed;
            MiddleIn = (float)s.Spread;
        }

        public float Dry { get; }

        public float LateMiddle { get; }

        public float LateSide { get; }

        public float EarlyMiddle { get; }

        public float EarlySide { get; }

        public float EarlyCrossed { get; }

        public float SideIn { get; }

        public float MiddleIn { get; }
    }
}
