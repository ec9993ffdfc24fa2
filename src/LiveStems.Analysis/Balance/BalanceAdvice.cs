using System.Globalization;
using LiveStems.Albums.Model;

namespace LiveStems.Analysis.Balance;

/// <summary>What to change in a song so that it stands beside the others, in words. Whether it should is for the engineer to say.</summary>
public static class BalanceAdvice
{
    // Differences that are heard when songs follow each other; smaller ones are left alone (common practice).
    private const double LoudnessLu = 1;
    private const double PartDb = 1.5;
    private const double TiltDb = 0.7;
    private const double RatioLu = 2.5;
    private const double RangeLu = 4;
    private const double TargetLu = 0.1;

    /// <summary>Sentences about a song; none where it stands well. An album of one song has nothing to be held against.</summary>
    /// <param name="album">All songs.</param>
    /// <param name="song">The one.</param>
    /// <param name="targets">What its master aims at.</param>
    public static IReadOnlyList<string> For(AlbumBalance album, SongFigures song, DeliveryTargets targets)
    {
        List<string> words = [];
        Targets(song, targets, words);
        if (album.Songs.Count < 2 || !double.IsFinite(song.Loudness.IntegratedLufs))
        {
            return words;
        }

        double louder = Distance(each => each.Loudness.IntegratedLufs);
        if (Math.Abs(louder) >= LoudnessLu)
        {
            words.Add($"{Size(louder)} LU {(louder > 0 ? "louder" : "softer")} than the album's middle: its target or its limiter's gain {(louder > 0 ? "down" : "up")}, unless the song is meant to stand out");
        }

        Part("lows", Distance(each => each.LowsDb), "a low shelf at 250 Hz");
        Part("mids", Distance(each => each.MidsDb), "a wide bell at 1 kHz");
        Part("highs", Distance(each => each.HighsDb), "a high shelf at 4 kHz");
        double tilt = Distance(each => each.TiltDbPerOctave);
        if (Math.Abs(tilt) >= TiltDb)
        {
            words.Add($"{(tilt > 0 ? "brighter" : "darker")} as a whole by {Size(tilt)} dB an octave: a tilt the other way on the song bus");
        }

        double ratio = Distance(each => each.PeakToLoudnessLu);
        if (Math.Abs(ratio) >= RatioLu)
        {
            words.Add(ratio < 0
                ? $"denser, {Size(ratio)} LU less between peak and loudness: its limiter or compressors work harder than the others'"
                : $"more open, {Size(ratio)} LU more between peak and loudness: it could bear more level, or the others less");
        }

        double range = Distance(each => each.Loudness.LoudnessRangeLu);
        if (Math.Abs(range) >= RangeLu)
        {
            words.Add($"its loudness moves {Size(range)} LU {(range > 0 ? "more" : "less")} than in the album's middle: ride its quiet places {(range > 0 ? "up" : "down")}, or leave it as the song's own");
        }

        return words;

        double Distance(Func<SongFigures, double> figure) => figure(song) - album.Median(figure);

        void Part(string name, double distance, string remedy)
        {
            if (Math.Abs(distance) >= PartDb)
            {
                words.Add($"{name} {Size(distance)} dB {(distance > 0 ? "stronger" : "weaker")} than the album's middle at equal loudness: {remedy} on the song bus, {(distance > 0 ? "−" : "+")}{Size(distance)} dB at most, or the stem that carries them");
            }
        }
    }

    private static void Targets(SongFigures song, DeliveryTargets targets, List<string> words)
    {
        double ratioHeld = targets.LeastPeakToLoudnessLu ?? double.NegativeInfinity;
        if (song.PeakToLoudnessLu < ratioHeld - TargetLu)
        {
            words.Add($"{Size(ratioHeld - song.PeakToLoudnessLu)} LU denser than its peak-to-loudness ratio allows; 'livestems set ALBUM --to-target' sets the limiter");
        }
        else if (targets.IntegratedLufs is { } wanted && Math.Abs(song.Loudness.IntegratedLufs - wanted) > TargetLu && song.PeakToLoudnessLu > ratioHeld + TargetLu)
        {
            words.Add($"{Size(song.Loudness.IntegratedLufs - wanted)} LU {(song.Loudness.IntegratedLufs > wanted ? "above" : "below")} its target; 'livestems set ALBUM --to-target' sets the limiter");
        }

        if (song.Loudness.TruePeakDbtp > targets.CeilingDbtp)
        {
            words.Add($"true peak {Size(song.Loudness.TruePeakDbtp - targets.CeilingDbtp)} dB above its ceiling");
        }
    }

    private static string Size(double value) => Math.Abs(value).ToString("0.0", CultureInfo.InvariantCulture);
}
