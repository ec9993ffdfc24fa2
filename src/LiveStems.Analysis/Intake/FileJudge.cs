using LiveStems.Dsp;
using LiveStems.Files;
using static LiveStems.Analysis.Intake.FindingWords;

namespace LiveStems.Analysis.Intake;

/// <summary>Turns what was measured in one file into findings. Thresholds are common practice unless a source is named.</summary>
internal sealed class FileJudge(SongFacts song, SongFile file, List<IntakeFinding> findings)
{
    private const double ShortSeconds = 3;

    // What the sum leaves of a rough mix that was made of just these stems: rounding. A stem this far below is not heard.
    private const double NothingMissingDb = -60;

    private readonly StemFacts facts = file.Facts!;
    private readonly int sampleRate = file.Facts!.Info.SampleRate;

    /// <summary>Judges a file, or says why it cannot be.</summary>
    public static void Judge(SongFacts song, SongFile file, List<IntakeFinding> findings)
    {
        if (file.Facts is null)
        {
            findings.Add(new IntakeFinding(
                FindingRank.Stop, FindingKind.Unreadable, song.Title, file.File.Name, null, null, double.NaN, string.Empty,
                $"cannot be read: {file.Fault}",
                $"The file of \"{file.File.Name}\" in \"{song.Title}\" does not open here; could you export and send it again?"));
            return;
        }

        new FileJudge(song, file, findings).Judge();
    }

    private void Judge()
    {
        Format();
        if (facts.IsSilent)
        {
            Add(
                IsNothingMissing ? FindingRank.Look : FindingRank.Stop, FindingKind.Silence, null, facts.Info.Seconds, "s",
                $"holds nothing but digital silence{(IsNothingMissing ? "; the rough mix is complete without it" : string.Empty)}",
                IsNothingMissing ? "is silent from start to end; is it meant to be?" : "is silent from start to end; could you check the export and send it again?");
            return;
        }

        if (facts.Info.Seconds < ShortSeconds)
        {
            Add(FindingRank.Note, FindingKind.TooShort, null, facts.Info.Seconds, "s", $"lasts {Number(facts.Info.Seconds, 2)} s: too short to judge alignment, noise floor and loudness; the rest was checked", string.Empty);
        }

        Damage();
        Peaks();
        Sides();
        Rest();
    }

    // A silent stem is missed by nobody when the others already make up the whole mix: it does not sing in this song.
    private bool IsNothingMissing => song.Mix is { } mix && mix.UnexplainedDb < NothingMissingDb;

    private void Format()
    {
        var info = facts.Info;
        if (info.SampleRate != song.SampleRate)
        {
            Add(FindingRank.Look, FindingKind.SampleRate, null, info.SampleRate, "Hz", $"runs at {info.SampleRate} Hz, the song at {song.SampleRate} Hz; it will be converted", $"came at {info.SampleRate} Hz while the other stems are at {song.SampleRate} Hz; could you export it at {song.SampleRate} Hz?");
        }

        if (info.Encoding == SampleEncoding.Decoded && info.BitsPerSample == 0)
        {
            Add(FindingRank.Look, FindingKind.Format, null, double.NaN, string.Empty, $"is a lossy {info.Container} file", "came as a lossy file; could you send it as 24-bit WAV?");
        }

        int usual = song.Stems.Where(stem => stem.Facts is not null).GroupBy(stem => stem.Facts!.Info.BitsPerSample).OrderByDescending(group => group.Count()).First().Key;
        if (!file.File.IsRoughMix && info.BitsPerSample != usual)
        {
            Add(FindingRank.Note, FindingKind.Format, null, info.BitsPerSample, "bits", $"has {info.BitsPerSample} bits, most stems have {usual}", string.Empty);
        }

        if (facts.UsedBits is { } bits && bits > 0 && bits < Math.Min(info.BitsPerSample, 24))
        {
            Add(bits <= 16 ? FindingRank.Look : FindingRank.Note, FindingKind.BitDepth, null, bits, "bits", $"uses {bits} of its {info.BitsPerSample} bits", $"uses only {bits} of {info.BitsPerSample} bits; could you export it straight from the session at 24 bits or more?");
        }
    }

    private void Damage()
    {
        if (facts.Dropouts.Count > 0)
        {
            Add(FindingRank.Stop, FindingKind.Dropouts, facts.Dropouts, facts.Dropouts.Count, "places", $"drops out {Count(facts.Dropouts.Count, "time", "times")} ({Places(facts.Dropouts, sampleRate)}), the longest for {facts.Dropouts.Largest!.Value.Frames} samples", $"drops out to silence at {Places(facts.Dropouts, sampleRate)}; could you export it again?");
        }

        if (facts.Clicks.Count > 0)
        {
            Add(FindingRank.Look, FindingKind.Clicks, facts.Clicks, facts.Clicks.Count, "places", $"has {Count(facts.Clicks.Count, "click", "clicks")} ({Places(facts.Clicks, sampleRate)}), the largest at {Number(facts.Clicks.Largest!.Value.Size, 1)} dBFS", $"has clicks at {Places(facts.Clicks, sampleRate)}; are they meant, or an edit without a fade?");
        }

        if (facts.Clipping.Count > 0)
        {
            bool isMuch = facts.Clipping.Count >= 10 || facts.Clipping.Largest!.Value.Frames >= 10;
            Add(isMuch ? FindingRank.Stop : FindingRank.Look, FindingKind.Clipping, facts.Clipping, facts.Clipping.Count, "runs", $"is clipped in {Count(facts.Clipping.Count, "run", "runs")} ({Places(facts.Clipping, sampleRate)}), the longest of {facts.Clipping.Largest!.Value.Frames} samples", $"is clipped at {Places(facts.Clipping, sampleRate)}; could you export it with more headroom, or as 32-bit float?");
        }
    }

    private void Peaks()
    {
        if (facts.TruePeakDbtp > 0)
        {
            bool isFloat = facts.Info.Encoding == SampleEncoding.Float;
            Add(facts.TruePeakDbtp > 1 && !isFloat ? FindingRank.Look : FindingRank.Note, FindingKind.InterSampleOvers, facts.Overs, facts.TruePeakDbtp, "dBTP", $"peaks at +{Number(facts.TruePeakDbtp, 1)} dBTP, above full scale {(facts.SamplePeakDbfs > 0 ? "in its samples" : "between samples")}", isFloat ? string.Empty : "peaks above full scale between its samples; could you export it a few decibels lower?");
        }

        bool isFlat = facts.FlatTops >= 20 && facts.Clipping.Count == 0;
        if (isFlat || (facts.BlocksAtPeak >= 20 && facts.ShareAtPeak >= 0.1))
        {
            Add(FindingRank.Look, FindingKind.Limited, null, 100 * facts.ShareAtPeak, "%", isFlat ? $"was clipped and turned down: {facts.FlatTops} flat tops at {Number(facts.SamplePeakDbfs, 2)} dBFS" : $"looks limited: {Number(100 * facts.ShareAtPeak, 0)} % of its loud moments stop within 0.1 dB of {Number(facts.SamplePeakDbfs, 2)} dBFS", "looks limited or clipped already; could you send it without the last limiter?");
        }
    }

    private void Sides()
    {
        if (facts.Info.Channels == 1)
        {
            return;
        }

        double imbalance = facts.LevelDbfs.Left - facts.LevelDbfs.Right;
        if (facts.IsMono)
        {
            Add(FindingRank.Note, FindingKind.MonoInStereo, null, double.NaN, string.Empty, "holds the same on both sides: mono in a stereo file", string.Empty);
        }
        else if (double.IsInfinity(imbalance))
        {
            string silent = imbalance > 0 ? "right" : "left";
            Add(FindingRank.Look, FindingKind.SideImbalance, null, double.NaN, string.Empty, $"is silent on the {silent}", $"has nothing on its {silent} side; is that meant?");
        }
        else if (Math.Abs(imbalance) > 3)
        {
            Add(FindingRank.Note, FindingKind.SideImbalance, null, Math.Abs(imbalance), "dB", $"is {Number(Math.Abs(imbalance), 1)} dB stronger on the {(imbalance > 0 ? "left" : "right")}", string.Empty);
        }

        bool isMixKnown = song.Mix is not null && !file.File.IsRoughMix;
        if (facts.Correlation < -0.5 && !isMixKnown)
        {
            Add(FindingRank.Stop, FindingKind.Polarity, null, facts.Correlation, "correlation", $"has one side upside down against the other: correlation {Number(facts.Correlation, 2)}", "seems to have one side inverted; could you check its polarity and export it again?");
        }
        else if (facts.Correlation < -0.1)
        {
            Add(FindingRank.Look, FindingKind.Correlation, null, facts.Correlation, "correlation", $"has sides that work against each other: correlation {Number(facts.Correlation, 2)}; it loses in mono", "has sides that cancel each other in mono; is that meant?");
        }
    }

    private void Rest()
    {
        double offset = Math.Max(Math.Abs(facts.Offset.Left), Math.Abs(facts.Offset.Right));
        double offsetDb = Decibels.FromAmplitude(offset);
        if (offsetDb > -60)
        {
            Add(offsetDb > -46 ? FindingRank.Look : FindingRank.Note, FindingKind.DcOffset, null, offsetDb, "dBFS", $"has a constant offset of {Number(100 * offset, 2)} % of full scale ({Number(offsetDb, 1)} dBFS)", "has a constant offset; could you export it with a high-pass or offset removal?");
        }

        if (facts.StartDbfs > -50 && facts.StartDbfs > facts.MeanDbfs - 20)
        {
            Add(FindingRank.Look, FindingKind.CutOff, 0, facts.StartDbfs, "dBFS", $"starts inside sound ({Number(facts.StartDbfs, 1)} dBFS in the first 10 ms)", "starts inside a sound; could you export it from earlier on?");
        }

        if (facts.EndDbfs > -50 && facts.EndDbfs > facts.MeanDbfs - 20)
        {
            Add(FindingRank.Look, FindingKind.CutOff, facts.Info.Seconds, facts.EndDbfs, "dBFS", $"ends inside sound ({Number(facts.EndDbfs, 1)} dBFS in the last 10 ms)", "is cut off at its end; could you export it until everything has died away?");
        }

        if (facts.Info.Seconds >= ShortSeconds && facts.FloorDbfs > -66 && facts.FloorDbfs < facts.MeanDbfs - 20)
        {
            Add(FindingRank.Note, FindingKind.NoiseFloor, null, facts.FloorDbfs, "dBFS", $"never falls below {Number(facts.FloorDbfs, 0)} dBFS while anything sounds: noise in its pauses", string.Empty);
        }
    }

    private void Add(FindingRank rank, FindingKind kind, EventList? places, double size, string unit, string text, string request)
    {
        SoundEvent? worst = places?.Largest;
        Add(rank, kind, worst is { } place ? (double)place.Frame / sampleRate : null, worst is { } end ? (double)(end.Frame + end.Frames) / sampleRate : null, size, unit, text, request);
    }

    private void Add(FindingRank rank, FindingKind kind, double start, double size, string unit, string text, string request) =>
        Add(rank, kind, start, start, size, unit, text, request);

    // What is wrong with the rough mix itself is good to know, and stops nobody.
    private void Add(FindingRank rank, FindingKind kind, double? start, double? end, double size, string unit, string text, string request) =>
        findings.Add(new IntakeFinding(
            file.File.IsRoughMix ? FindingRank.Note : rank, kind, song.Title, file.File.Name, start, end, size, unit, text,
            request.Length == 0 || file.File.IsRoughMix ? string.Empty : $"\"{file.File.Name}\" in \"{song.Title}\" {request}"));
}
