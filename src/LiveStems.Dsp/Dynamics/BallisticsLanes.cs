using System.Runtime.CompilerServices;
using System.Runtime.Intrinsics;

namespace LiveStems.Dsp.Dynamics;

/// <summary>Poles and states of up to eight channels of <see cref="Ballistics"/> side by side.</summary>
internal struct BallisticsLanes
{
    public Vector512<double> Release, ReleaseShare, Charge, ChargeShare, Discharge, DischargeShare, Attack, AttackShare;
    public Vector512<double> Fast, Slow, Smoothed;

    public BallisticsLanes(ReadOnlySpan<BallisticsChannel> channels)
    {
        for (int i = 0; i < channels.Length; i++)
        {
            Ballistics.ChannelState state = channels[i].Member.StateOf(channels[i].Channel);
            Set(ref Release, i, state.Release.Alpha);
            Set(ref ReleaseShare, i, state.Release.Share);
            Set(ref Charge, i, state.Charge.Alpha);
            Set(ref ChargeShare, i, state.Charge.Share);
            Set(ref Discharge, i, state.Discharge.Alpha);
            Set(ref DischargeShare, i, state.Discharge.Share);
            Set(ref Attack, i, state.Attack.Alpha);
            Set(ref AttackShare, i, state.Attack.Share);
            Set(ref Fast, i, state.Fast);
            Set(ref Slow, i, state.Slow);
            Set(ref Smoothed, i, state.Smoothed);
        }
    }

    /// <summary>Gives the states back to whom they came from.</summary>
    public readonly void Keep(ReadOnlySpan<BallisticsChannel> channels)
    {
        for (int i = 0; i < channels.Length; i++)
        {
            channels[i].Member.SetState(channels[i].Channel, channels[i].IsLinked, Get(in Fast, i), Get(in Slow, i), Get(in Smoothed, i));
        }
    }

    private static double Get(in Vector512<double> lanes, int lane) =>
        Unsafe.Add(ref Unsafe.As<Vector512<double>, double>(ref Unsafe.AsRef(in lanes)), lane);

    private static void Set(ref Vector512<double> lanes, int lane, double value) =>
        Unsafe.Add(ref Unsafe.As<Vector512<double>, double>(ref lanes), lane) = value;
}

/// <summary>A channel of ballistics that stands in a lane.</summary>
/// <param name="Member">Whose channel it is.</param>
/// <param name="Channel">0 left, 1 right.</param>
/// <param name="IsLinked">True when it stands for both channels.</param>
internal readonly record struct BallisticsChannel(Ballistics Member, int Channel, bool IsLinked);
