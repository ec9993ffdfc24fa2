using static LiveStems.Analysis.Intake.FindingWords;

namespace LiveStems.Analysis.Intake;

/// <summary>Turns what holding a song's files against each other showed into findings.</summary>
internal sealed class SongJudge(SongFacts song, List<IntakeFinding> findings)
{
    private const double LengthSeconds = 0.01;
    private const double LoudClickDbfs = -20;

    // The more a bus chain or damage leaves unexplained, the less small differences of gain say.
    private static readonly (double UnexplainedDb, double LeastDb)[] GainSteps = [(-40, 0.1), (-20, 0.25), (double.PositiveInfinity, 1.5)];

    /// <summary>Judges the song as a whole.</summary>
    public void Judge()
    {
        Lengths();
        if (song.RoughMix is null)
        {
            Add(FindingRank.Note, FindingKind.Sum, null, double.NaN, string.Empty, "has no rough mix, so the sum of its stems, their alignment and their polarity cannot be checked against one", $"Could you send a rough mix of \"{song.Title}\" without processing on the mix bus?");
        }
        else if (!song.IsLongEnough)
        {
            Add(FindingRank.Note, FindingKind.TooShort, null, double.NaN, string.Empty, "is too short (less than 3 s, or a single file) to hold its stems against the rough mix", string.Empty);
        }

        if (song.Mix is { } mix)
        {
            Sum(mix);
            Alignment(mix);
            foreach ((SongFile stem, StemInMix? place) in song.Stems.Zip(mix.Stems))
            {
                if (place is not null && stem.Facts is { IsSilent: false } facts)
                {
                    Stem(stem.File.Name, facts, place, mix);
                }
            }
        }

        foreach (StemRelation relation in song.Relations)
        {
            Relation(relation);
        }
    }

    private void Lengths()
    {
        List<(string Name, double Seconds)> lengths = [.. song.Stems.Where(stem => stem.Facts is not null).Select(stem => (stem.File.Name, stem.Facts!.Info.Seconds))];
        if (lengths.Count == 0)
        {
            return;
        }

        double longest = lengths.Max(each => each.Seconds);
        foreach ((string name, double seconds) in lengths.Where(each => longest - each.Seconds > LengthSeconds))
        {
            bool isAligned = song.Mix?.Stems[song.Stems.ToList().FindIndex(stem => stem.File.Name == name)] is { IsFound: true } place && Math.Abs(place.LateFrames) < 0.5;
            Add(isAligned ? FindingRank.Note : FindingRank.Look, FindingKind.Length, name, longest - seconds, "s", $"is {Number(longest - seconds, 3)} s shorter than the longest stem", isAligned ? string.Empty : $"\"{name}\" in \"{song.Title}\" is {Number(longest - seconds, 3)} s shorter than the longest stem; do all stems start at the same place?");
        }
    }

    private void Sum(MixComparison mix)
    {
        string bands = string.Join(", ", mix.Bands.Where(band => double.IsFinite(band.ResidualDb)).Select(band => $"{Label(band)} {Number(band.ResidualDb, 0)}"));
        string leftOut = mix.LeftOutShare > 0 ? $"; {Number(Math.Max(100 * mix.LeftOutShare, 0.1), 1)} % of the time, where files are damaged or end, is not counted" : string.Empty;
        Add(FindingRank.Note, FindingKind.Sum, null, mix.ResidualDb, "dB", $"adds up to the rough mix {Gain(mix.MedianGainDb)} but for {Number(mix.ResidualDb, 1)} dB (by octaves: {bands} dB{leftOut})", string.Empty);
        if (mix.UnexplainedDb > -20)
        {
            MixBand worst = mix.Bands.MaxBy(band => band.UnexplainedDb)!;
            Add(mix.UnexplainedDb > -10 ? FindingRank.Stop : FindingRank.Look, FindingKind.MissingStem, null, mix.UnexplainedDb, "dB", $"has something in its rough mix that is in no stem, {Number(-mix.UnexplainedDb, 1)} dB below the mix, most of it around {Label(worst)}: a missing stem, or distortion on the mix bus", $"The rough mix of \"{song.Title}\" holds something around {Label(worst)} that is in none of the stems; is a stem missing?");
        }
    }

    private void Alignment(MixComparison mix)
    {
        double common = Common(mix);
        if (Math.Abs(common) >= 0.5)
        {
            Add(FindingRank.Note, FindingKind.Delay, null, common, "samples", $"has stems that are together {Late(common)} against the rough mix, which does no harm", string.Empty);
        }
    }

    private void Stem(string name, StemFacts facts, StemInMix place, MixComparison mix)
    {
        if (!place.IsFound)
        {
            bool isFaint = song.RoughMix?.Facts is { } whole && facts.MeanDbfs < whole.MeanDbfs - 30;
            Add(isFaint ? FindingRank.Look : FindingRank.Stop, FindingKind.ExtraStem, name, double.NaN, string.Empty, "was not found in the rough mix: muted there, another take, or more than a quarter of a second away from its place", $"\"{name}\" in \"{song.Title}\" is not in the rough mix where I expect it; is it meant to be used, and does it start where the others do?");
            return;
        }

        double late = place.LateFrames - Common(mix);
        if (Math.Abs(late) >= 0.5)
        {
            double milliseconds = 1000 * late / song.SampleRate;
            Add(Math.Abs(milliseconds) >= 1 ? FindingRank.Stop : FindingRank.Look, FindingKind.Delay, name, late, "samples", $"is {Late(late)} against the other stems ({Number(milliseconds, 2)} ms)", $"\"{name}\" in \"{song.Title}\" is {Late(late)}; could you export it again, in time with the others?");
        }

        int upright = mix.Stems.Sum(stem => stem is null ? 0 : Math.Sign(stem.Sign.Left + stem.Sign.Right)) < 0 ? -1 : 1;
        bool left = place.Sign.Left * upright < 0, right = place.Sign.Right * upright < 0;
        if (left || right)
        {
            bool isWhole = left == right || facts.Info.Channels == 1 || place.Sign.Left == 0 || place.Sign.Right == 0;
            string which = isWhole ? "is upside down" : $"is upside down on the {(left ? "left" : "right")} only";
            Add(FindingRank.Stop, FindingKind.Polarity, name, double.NaN, string.Empty, $"{which} against the rough mix", $"\"{name}\" in \"{song.Title}\" {which} compared with the rough mix; could you export it with its polarity put right?");
        }

        Level(name, facts, place, mix);
    }

    private void Level(string name, StemFacts facts, StemInMix place, MixComparison mix)
    {
        double off = place.GainDb - mix.MedianGainDb;

        // What damage puts into a stem or takes out of it pulls at its gain, unless its moments could be left out.
        bool isDamaged = mix.LeftOutShare == 0 && (facts.Clipping.Count > 0 || facts.Dropouts.Count > 0 || facts.Clicks.Largest is { Size: > LoudClickDbfs });
        double least = isDamaged ? GainSteps[^1].LeastDb : GainSteps.First(step => mix.UnexplainedDb < step.UnexplainedDb).LeastDb;
        if (Math.Abs(off) >= least)
        {
            FindingRank rank = Math.Abs(off) >= 3 ? FindingRank.Stop : Math.Abs(off) >= 0.25 ? FindingRank.Look : FindingRank.Note;
            string which = $"is {Number(Math.Abs(off), 2)} dB {(off > 0 ? "softer" : "louder")} than in the rough mix, beside the other stems";
            Add(rank, FindingKind.Gain, name, -off, "dB", which, $"\"{name}\" in \"{song.Title}\" {which}; which level is meant?");
        }
    }

    private void Relation(StemRelation relation)
    {
        string first = song.Stems[relation.First].File.Name, second = song.Stems[relation.Second].File.Name;
        string share = $"{Number(100 * relation.SharedShare, 0)} %";
        if (relation.SharedShare > 0.98 && Math.Abs(relation.LateFrames) < 0.5 && !relation.IsInverted)
        {
            Add(FindingRank.Look, FindingKind.Duplicate, second, 100 * relation.SharedShare, "%", $"holds the same sound as \"{first}\" ({share})", $"\"{second}\" and \"{first}\" in \"{song.Title}\" hold the same sound; was one of them exported twice?");
        }
        else if (song.Mix is null && (relation.IsInverted || Math.Abs(relation.LateFrames) >= 0.5))
        {
            bool isInverted = relation.IsInverted;
            string how = isInverted ? "upside down" : Late(relation.LateFrames);
            Add(FindingRank.Look, isInverted ? FindingKind.Polarity : FindingKind.Delay, second, isInverted ? double.NaN : relation.LateFrames, isInverted ? string.Empty : "samples", $"shares {share} of its sound with \"{first}\" and is {how} against it", $"\"{second}\" in \"{song.Title}\" is {how} against \"{first}\"; is that meant?");
        }
    }

    // The place that most stems agree on: bus latency moves all of them alike.
    private static double Common(MixComparison mix)
    {
        double[] late = [.. mix.Stems.OfType<StemInMix>().Where(stem => stem.IsFound).Select(stem => stem.LateFrames).Order()];
        return late.Length == 0 ? 0 : late[late.Length / 2];
    }

    private static string Late(double frames)
    {
        double size = Math.Abs(frames);
        string number = Math.Abs(size - Math.Round(size)) < 0.05 ? $"{Math.Round(size):0}" : Number(size, 2);
        return $"{number} {(number == "1" ? "sample" : "samples")} {(frames > 0 ? "late" : "early")}";
    }

    private static string Gain(double gainDb) => Math.Abs(gainDb) < 0.05 ? "as they are" : $"at {(gainDb > 0 ? "+" : string.Empty)}{Number(gainDb, 2)} dB";

    private static string Label(MixBand band) => band.Band.NominalHz >= 1000 ? $"{band.Band.NominalHz / 1000:0.#} kHz" : $"{band.Band.NominalHz:0.#} Hz";

    private void Add(FindingRank rank, FindingKind kind, string? stem, double size, string unit, string text, string request) =>
        findings.Add(new IntakeFinding(rank, kind, song.Title, stem, null, null, size, unit, text, request));
}
