using LiveStems.Albums.Model;
using LiveStems.App.Terminal;
using LiveStems.Engine.Live;
using LiveStems.Engine.Monitor;

namespace LiveStems.App.Playing;

/// <summary>The player's one line.</summary>
internal static class StatusLine
{
    /// <summary>State, place, stem, levels, load, band.</summary>
    public static string From(PlayerState state, PlayControls controls)
    {
        Stem stem = controls.Stem;
        string marks = string.Concat(
            stem.Placement.Soloed ? " solo" : string.Empty,
            stem.Placement.Muted ? " mute" : string.Empty,
            stem.Placement.Polarity == Polarity.Normal ? string.Empty : " inverted",
            stem.Placement.GainDb == 0 ? string.Empty : $" {Numbers.Text(stem.Placement.GainDb, 1)} dB",
            stem.Placement.Pan == 0 ? string.Empty : $" pan {Numbers.Text(stem.Placement.Pan, 1)}",
            stem.Chain.Bypassed ? " bypassed" : string.Empty);
        string marker = SongMarkers.At(controls.Song, state.PositionSeconds) is { } here ? $" {here.Name}" : string.Empty;
        bool hasMeters = state.LoadLevel < LoadLevel.WithoutMeters;
        List<string> parts =
        [
            $"{(state.IsPlaying ? "playing" : "stopped")} {Time(state.PositionSeconds)}/{Time(state.LengthSeconds)}{marker}",
            $"{state.Song}, {stem.Name}{marks}",
            !hasMeters ? "meters off: overload" : $"M {Loudness(state.MomentaryLufs)} S {Loudness(state.ShortTermLufs)} LUFS",
            !hasMeters ? string.Empty : $"peak {Numbers.Text(Math.Max(state.LeftPeakDbfs, state.RightPeakDbfs), 1)} dBFS",
            $"load {state.Device.ShareAt(0.5) * 100:0} % worst {state.Device.WorstShare * 100:0} %",
        ];
        parts.AddRange(Remarks(state, controls));
        return string.Join("  ", parts.Where(part => part.Length > 0));
    }

    private static IEnumerable<string> Remarks(PlayerState state, PlayControls controls)
    {
        MonitorSettings monitor = controls.Monitor;
        if (state.LoadLevel == LoadLevel.Faded)
        {
            yield return "OVERLOAD: faded out, tries again";
        }

        if (state.LateStems.Count > 0)
        {
            yield return $"late from disk: {string.Join(", ", state.LateStems)}";
        }

        if (monitor.BandListen)
        {
            yield return $"band {monitor.BandCentreHz:0} Hz {monitor.BandWidthOctaves:0.0} oct";
        }

        if (monitor.Channels != MonitorChannels.Stereo)
        {
            yield return monitor.Channels == MonitorChannels.Mono ? "mono" : "side";
        }

        if (monitor.IsSwapped)
        {
            yield return "swapped";
        }

        if (monitor.Signal != MonitorSignal.Music)
        {
            yield return monitor.Signal == MonitorSignal.Tone ? "tone" : "pink noise";
        }

        if (monitor.IsDimmed)
        {
            yield return "dim";
        }

        IEnumerable<string> compared = controls.Blind.IsRunning ? [controls.Blind.Status()] : controls.Compare.Status();
        foreach (string words in compared)
        {
            yield return words;
        }

        if (controls.Loop is ({ } start, { } end))
        {
            yield return $"loop {Time(start)}–{Time(end)}";
        }

        if (state.HasFollowing)
        {
            yield return "album goes on";
        }

        if (state.Device.Underruns > 0)
        {
            yield return $"{state.Device.Underruns} underruns";
        }

        if (state.Outside.Sum(use => use.Faults) is > 0 and var faults)
        {
            yield return $"outside processors: {faults} fault{(faults == 1 ? string.Empty : "s")}, {state.Outside.Sum(use => use.FramesLost)} frames without";
        }

        if (state.MissedFrames > 0)
        {
            yield return $"{state.MissedFrames} frames late from disk";
        }
    }

    // Below the absolute gate of ITU-R BS.1770-5 there is nothing to measure.
    private static string Loudness(double lufs) => Numbers.Text(lufs > -70 ? lufs : double.NegativeInfinity, 1);

    private static string Time(double seconds)
    {
        long tenths = (long)Math.Round(seconds * 10);
        return $"{tenths / 600}:{tenths / 10 % 60:00}.{tenths % 10}";
    }
}
