using LiveStems.Analysis.Intake;
using LiveStems.App.Demo;

namespace LiveStems.Bench.Scenarios;

/// <summary>
/// Plants faults into the demo's stems and counts what the intake check finds: other seeds each run, and other material
/// than the noise and tones that its thresholds were set on.
/// </summary>
internal static class PlantedFaults
{
    private static readonly FindingKind[] Kinds =
    [
        FindingKind.Delay, FindingKind.Polarity, FindingKind.Gain, FindingKind.DcOffset, FindingKind.Dropouts, FindingKind.Clicks, FindingKind.Clipping,
    ];

    public static void Run(string[] arguments)
    {
        int seed = Option(arguments, "--seed", Random.Shared.Next(1_000_000));
        int rounds = Option(arguments, "--rounds", 6);

        // One round of them by itself, as it is among the others.
        int only = Option(arguments, "--only", -1);
        Console.WriteLine($"planted faults: seed {seed}, {rounds} rounds of {PlantedDelivery.Seconds} s");
        Dictionary<FindingKind, Score> scores = Kinds.ToDictionary(kind => kind, _ => new Score());
        int stops = 0, cleanFindings = 0, cleanStems = 0;
        string folder = Directory.CreateTempSubdirectory("livestems-planted").FullName;
        try
        {
            foreach (IGrouping<int, int> songs in Enumerable.Range(0, rounds).Where(round => only < 0 || round == only).GroupBy(round => (seed + round) % DemoAlbum.Songs.Count))
            {
                DemoSong song = DemoAlbum.Songs[songs.Key];
                float[][][] whole = new float[song.Stems.Count][][];
                Parallel.For(0, whole.Length, stem => whole[stem] = song.Stems[stem].Render());
                foreach (int round in songs)
                {
                    Random random = new(seed + 7919 * round);
                    PlantedDelivery clean = new(song, whole, random);
                    IntakeReport untouched = Check(clean, folder);
                    stops += untouched.Findings.Count(finding => finding.Rank == FindingRank.Stop);
                    cleanFindings += untouched.Findings.Count(finding => Kinds.Contains(finding.Kind) && finding.Rank != FindingRank.Note);
                    cleanStems += song.Stems.Count;
                    foreach (IntakeFinding finding in untouched.Findings.Where(finding => finding.Rank == FindingRank.Stop || (Kinds.Contains(finding.Kind) && finding.Rank != FindingRank.Note)))
                    {
                        Console.WriteLine($"  clean, round {round}: {finding.Rank}: {finding.Song} / {finding.Stem} {finding.Text}");
                    }

                    PlantedDelivery spoilt = new(song, whole, random);
                    spoilt.PlantAll();
                    Compare(spoilt, Check(spoilt, folder), untouched, scores);
                }
            }
        }
        finally
        {
            Directory.Delete(folder, true);
        }

        Write(scores);
        Console.WriteLine($"clean deliveries: {stops} stops, {cleanFindings} looks of these kinds in {cleanStems} stems");
    }

    private static IntakeReport Check(PlantedDelivery delivery, string folder) => IntakeCheck.Run([delivery.Write(folder)], null, CancellationToken.None);

    private static void Compare(PlantedDelivery delivery, IntakeReport report, IntakeReport clean, Dictionary<FindingKind, Score> scores)
    {
        SongFacts song = report.Songs[0];
        foreach (PlantedFault fault in delivery.Faults)
        {
            Score score = scores[fault.Kind];
            IntakeFinding? finding = report.Findings.FirstOrDefault(each => each.Kind == fault.Kind && each.Stem == fault.Stem);
            StemFacts facts = song.Stems.First(stem => stem.File.Name == fault.Stem).Facts!;
            EventList? places = fault.Kind switch
            {
                FindingKind.Dropouts => facts.Dropouts,
                FindingKind.Clicks => facts.Clicks,
                FindingKind.Clipping => facts.Clipping,
                _ => null,
            };
            if (places is null)
            {
                score.Planted++;
                score.Found += finding is null ? 0 : 1;
                double error = finding is null || double.IsNaN(finding.Size) ? 0 : Math.Abs(finding.Size - fault.Size);
                score.WorstError = Math.Max(score.WorstError, error);
                if (finding is null)
                {
                    Console.WriteLine($"  missed: {fault.Kind} in {song.Title} / {fault.Stem} ({fault.Size:0.###})");
                }

                continue;
            }

            double tolerance = 0.002;
            foreach (double second in fault.Seconds)
            {
                score.Planted++;
                bool isFound = places.Places.Any(place => Math.Abs((double)place.Frame / facts.Info.SampleRate - second) < tolerance);
                score.Found += isFound ? 1 : 0;
                if (!isFound)
                {
                    Console.WriteLine($"  missed: {fault.Kind} in {song.Title} / {fault.Stem} at {second:0.0000} s");
                }
            }
        }

        // Found where nothing was planted: other than the clean delivery shows, too, in stems without a fault of that kind.
        foreach (FindingKind kind in Kinds)
        {
            List<IntakeFinding> others = [.. report.Findings.Where(finding => finding.Kind == kind && finding.Stem is not null && finding.Rank != FindingRank.Note
                && !delivery.Faults.Exists(fault => fault.Stem == finding.Stem && (fault.Kind == kind || (kind == FindingKind.Clicks && fault.Seconds.Count > 0)))
                && !clean.Findings.Any(each => each.Kind == kind && each.Stem == finding.Stem))];
            scores[kind].False += others.Count;
            others.ForEach(finding => Console.WriteLine($"  not planted: {finding.Song} / {finding.Stem} {finding.Text}"));
        }
    }

    private static void Write(Dictionary<FindingKind, Score> scores)
    {
        Console.WriteLine($"{"fault",-12}{"planted",9}{"found",8}{"recall",9}{"false",8}  worst error");
        foreach ((FindingKind kind, Score score) in scores)
        {
            string unit = kind switch
            {
                FindingKind.Delay => $"{score.WorstError:0.000} samples",
                FindingKind.Gain or FindingKind.DcOffset => $"{score.WorstError:0.000} dB",
                _ => string.Empty,
            };
            Console.WriteLine($"{kind,-12}{score.Planted,9}{score.Found,8}{(score.Planted == 0 ? 1 : (double)score.Found / score.Planted),9:0.0 %}{score.False,8}  {unit}");
        }
    }

    private static int Option(string[] arguments, string name, int fallback)
    {
        int place = Array.IndexOf(arguments, name);
        return place >= 0 && place + 1 < arguments.Length ? int.Parse(arguments[place + 1]) : fallback;
    }

    private sealed class Score
    {
        public int Planted { get; set; }

        public int Found { get; set; }

        public int False { get; set; }

        public double WorstError { get; set; }
    }
}
