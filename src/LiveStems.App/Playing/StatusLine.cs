using LiveStems.Albums.Model;
using LiveStems.App.Terminal;
using LiveStems.Engine.Live;
using LiveStems.Engine.Monitor;
using LiveStems.Engine.Planning;

namespace LiveStems.App.Playing;

/// <summary>
/// The player's one line: place, warnings, levels, load, how it is listened, and names last, which give way where the terminal
/// is narrow.
/// </summary>
internal static class StatusLine
{
    private const int LeastOfSong = 8;
    private const int LeastOfStem = 6;

    /// <summary>The line, in no more than so many columns.</summary>
    public static string From(PlayerState state, IReadOnlyList<OutsideUse> outside, PlayControls controls, SoundRecording? recording, int columns) => LinePart.Join(
        [Place(state, controls), .. Warnings(state, outside, recording), .. Levels(state), .. Listening(state, controls), .. Names(state, controls), .. Extras(state, controls, recording)],
        columns);

    private static LinePart Place(PlayerState state, PlayControls controls)
    {
        string word = state.IsPlaying ? "playing " : "stopped ";
        string place = Time(state.PositionSeconds);
        string whole = $"{word}{place}/{Time(state.LengthSeconds)}";
        string marker = SongMarkers.At(controls.Song, state.PositionSeconds) is { } here ? $" {here.Name}" : string.Empty;
        return new LinePart(
            whole + marker,
            LinePart.To(Turn.Extras, whole),
            LinePart.To(Turn.Detail, word + place),
            LinePart.To(Turn.Rest, state.IsPlaying ? place : word + place));
    }

    private static IEnumerable<LinePart> Warnings(PlayerState state, IReadOnlyList<OutsideUse> outside, SoundRecording? recording)
    {
        foreach (StateWords warning in PlayerWords.Warnings(state))
        {
            yield return new LinePart(warning.Words, LinePart.To(Turn.Warnings, warning.Brief));
        }

        if (recording is { Failure: not null })
        {
            yield return new LinePart("RECORDING ENDED");
        }
        else if (recording is { LostFrames: > 0 })
        {
            yield return new LinePart("recording has gaps", LinePart.To(Turn.Warnings, "rec. gaps"));
        }

        if (state.Device.Underruns > 0)
        {
            yield return new LinePart($"{state.Device.Underruns} underrun{Plural(state.Device.Underruns)}");
        }

        if (outside.Sum(use => use.Faults) is > 0 and var faults)
        {
            string brief = $"outside: {faults} fault{Plural(faults)}";
            yield return new LinePart($"outside processors: {faults} fault{Plural(faults)}, {outside.Sum(use => use.FramesLost)} frames without", LinePart.To(Turn.Past, brief));
        }
    }

    private static IEnumerable<LinePart> Levels(PlayerState state)
    {
        if (PlayerWords.LeftOut(state.LoadLevel, hasCurves: false) is { } leftOut)
        {
            yield return new LinePart(leftOut.Words, LinePart.To(Turn.Warnings, leftOut.Brief));
        }
        else
        {
            string momentary = $"M {Loudness(state.MomentaryLufs)}";
            string both = $"{momentary} S {Loudness(state.ShortTermLufs)}";
            yield return new LinePart($"{both} LUFS", LinePart.To(Turn.Units, both), LinePart.To(Turn.Levels, momentary));
            string peak = $"peak {Numbers.Text(Math.Max(state.LeftPeakDbfs, state.RightPeakDbfs), 1)}";
            string sides = $"L {Numbers.Text(state.LeftPeakDbfs, 1)} R {Numbers.Text(state.RightPeakDbfs, 1)} dBFS";
            yield return new LinePart(sides, LinePart.To(Turn.Detail, $"{peak} dBFS"), LinePart.To(Turn.Units, peak));
        }

        string load = $"load {state.Device.Load * 100:0} %";
        yield return new LinePart($"{load} worst {state.Device.WorstShare * 100:0} %", LinePart.To(Turn.Past, load));
    }

    private static IEnumerable<LinePart> Listening(PlayerState state, PlayControls controls)
    {
        MonitorSettings monitor = controls.Monitor.Settings;
        if (monitor.IsDimmed)
        {
            yield return new LinePart("dim");
        }

        if (monitor.BandListen)
        {
            string centre = $"band {monitor.BandCentreHz:0} Hz";
            string band = $"{centre} {monitor.BandWidthOctaves:0.0} oct";
            yield return new LinePart($"{band} {monitor.BandSlopeDbPerOctave} dB/oct", LinePart.To(Turn.Extras, band), LinePart.To(Turn.Listening, centre), LinePart.To(Turn.Rest, "band"));
        }

        foreach (StateWords heard in PlayerWords.Listening(monitor))
        {
            yield return new LinePart(heard.Words, LinePart.To(Turn.Rest, heard.Brief));
        }

        if (controls.Chains.IsSongBypassed)
        {
            string chains = controls.Chains.AreAllBypassed ? "chains" : "song chain";
            yield return new LinePart($"{chains} bypassed", LinePart.To(Turn.Listening, $"no {chains}"));
        }

        foreach (LinePart compared in controls.Blind.IsRunning ? [controls.Blind.Status()] : controls.Compare.Status())
        {
            yield return compared;
        }

        if (controls.Loop is ({ } start, { } end))
        {
            yield return new LinePart($"loop {Time(start)}–{Time(end)}", LinePart.To(Turn.Listening, "loop"));
        }
    }

    private static IEnumerable<LinePart> Names(PlayerState state, PlayControls controls)
    {
        Stem stem = controls.Stem;
        string switches = string.Concat(
            stem.Placement.Soloed ? " solo" : string.Empty,
            stem.Placement.Muted ? " mute" : string.Empty,
            stem.Chain.Bypassed && !controls.Chains.AreAllBypassed ? " bypassed" : string.Empty);
        string values = string.Concat(
            stem.Placement.Polarity == Polarity.Normal ? string.Empty : " inverted",
            stem.Placement.GainDb == 0 ? string.Empty : $" {Numbers.Text(stem.Placement.GainDb, 1)} dB",
            stem.Placement.Pan == 0 ? string.Empty : $" pan {Numbers.Text(stem.Placement.Pan, 1)}");
        yield return new LinePart(stem.Name + switches + values, LinePart.To(Turn.Detail, stem.Name + switches), LinePart.Cut(Turn.Stem, stem.Name, switches, LeastOfStem));
        string song = state.Song ?? string.Empty;
        yield return new LinePart(song, LinePart.Cut(Turn.Song, song, string.Empty, LeastOfSong), LinePart.To(Turn.Song, string.Empty));
    }

    private static IEnumerable<LinePart> Extras(PlayerState state, PlayControls controls, SoundRecording? recording)
    {
        MonitorSettings monitor = controls.Monitor.Settings;
        if (monitor.LevelDb != 0)
        {
            yield return new LinePart($"level {Numbers.Text(monitor.LevelDb, 0)} dB", LinePart.To(Turn.Extras, string.Empty));
        }

        if (monitor.SafetyCeilingDbfs != MonitorSettings.AtStart.SafetyCeilingDbfs)
        {
            yield return new LinePart($"ceiling {Numbers.Text(monitor.SafetyCeilingDbfs, 0)} dBFS", LinePart.To(Turn.Extras, string.Empty));
        }

        if (recording is { Failure: null })
        {
            yield return new LinePart("recording", LinePart.To(Turn.Extras, "rec"), LinePart.To(Turn.Past, string.Empty));
        }

        if (state.HasFollowing)
        {
            yield return new LinePart("album goes on", LinePart.To(Turn.Extras, string.Empty));
        }
    }

    private static string Plural(long count) => count == 1 ? string.Empty : "s";

    // Below the absolute gate of ITU-R BS.1770-5 there is nothing to measure.
    private static string Loudness(double lufs) => Numbers.Text(lufs > -70 ? lufs : double.NegativeInfinity, 1);

    private static string Time(double seconds)
    {
        long tenths = (long)Math.Round(seconds * 10);
        return $"{tenths / 600}:{tenths / 10 % 60:00}.{tenths % 10}";
    }
}
