using System.Diagnostics;
using System.Globalization;
using LiveStems.Bench.Peers;
using LiveStems.Dsp.Resampling;

namespace LiveStems.Bench.Scenarios;

/// <summary>
/// Every usual rate to every other, and some odd pairs, beside libsoxr at very high quality: stereo pink noise in blocks of
/// 4096 frames, both in turns, the best round of each.
/// </summary>
internal static class ResamplingAgainstSoxr
{
    private const int FramesAtOnce = 4096;

    /// <summary>Frames of the higher rate in a turn: so few that most turns run through undisturbed.</summary>
    private const int FramesInATurn = 200_000;

    /// <summary>Frames of the lower rate in a turn, at least: whole blocks of both.</summary>
    private const int LowerFramesInATurn = 30_000;

    private static readonly int[] Usual =
    [
        8_000, 11_025, 16_000, 22_050, 24_000, 32_000, 44_100, 48_000, 88_200, 96_000, 176_400, 192_000, 352_800, 384_000,
    ];

    private static readonly (int From, int To)[] Odd =
    [
        (44_100, 47_999), (47_999, 44_100), (44_101, 48_000), (48_000, 44_101), (96_000, 44_099), (44_099, 96_000),
        (8_000, 383_999), (383_999, 8_000),
    ];

    /// <summary>Prints a line a pair: times real time of both and their quotient, then the least and the middle quotient.</summary>
    /// <param name="rounds">Turns; the best of each side counts.</param>
    /// <param name="rates">Only pairs of these, or all if empty.</param>
    public static void Run(int rounds, int[] rates)
    {
        List<(double Quotient, string Line)> results = [];
        foreach ((int from, int to) in Pairs(rates.Length > 0 ? rates : Usual).Concat(rates.Length > 0 ? [] : Odd))
        {
            (double ours, double peer) = Measure(from, to, rounds);
            string line = string.Create(
                CultureInfo.InvariantCulture, $"{from,7} → {to,7}  ours {ours,7:F0}  soxr VHQ {peer,7:F0}  {ours / peer:F2}");
            results.Add((ours / peer, line));
            Console.WriteLine(line);
        }

        results.Sort((a, b) => a.Quotient.CompareTo(b.Quotient));
        Console.WriteLine($"least:  {results[0].Line}");
        Console.WriteLine($"middle: {results[results.Count / 2].Line}");
        Console.WriteLine($"below the peer: {results.Count(result => result.Quotient < 1)} of {results.Count}");
    }

    private static IEnumerable<(int From, int To)> Pairs(int[] rates) =>
        from first in rates from second in rates where first != second select (first, second);

    private static (double Ours, double Peer) Measure(int from, int to, int rounds)
    {
        double higher = Math.Max(FramesInATurn, LowerFramesInATurn * Math.Max((double)from / to, (double)to / from));
        int frames = (int)(higher * Math.Min(1, (double)from / to));
        float[] left = ProgrammeSamples.PinkNoise(from, 1 + frames / from, 1)[..frames];
        float[] right = ProgrammeSamples.PinkNoise(from, 1 + frames / from, 2)[..frames];
        float[] leftOutput = new float[(int)higher + FramesInATurn];
        float[] rightOutput = new float[(int)higher + FramesInATurn];
        StreamingResampler resampler = new(from, to);
        nint state = LibSoxr.Start(from, to, LibSoxr.VeryHighQuality);
        (double ours, double peer) = (0, 0);
        for (int round = 0; round <= rounds; round++)
        {
            long start = Stopwatch.GetTimestamp();
            int produced = 0;
            for (int at = 0; at < frames; at += FramesAtOnce)
            {
                int count = Math.Min(FramesAtOnce, frames - at);
                produced += LibSoxr.Process(state, left.AsSpan(at, count), right.AsSpan(at, count), leftOutput, rightOutput);
            }

            peer = Math.Max(peer, produced / Stopwatch.GetElapsedTime(start).TotalSeconds / to);
            start = Stopwatch.GetTimestamp();
            resampler.Reset();
            produced = 0;
            for (int at = 0; at < frames; at += FramesAtOnce)
            {
                int count = Math.Min(FramesAtOnce, frames - at);
                resampler.Process(left.AsSpan(at, count), right.AsSpan(at, count), leftOutput, rightOutput, out _, out int made);
                produced += made;
            }

            ours = Math.Max(ours, produced / Stopwatch.GetElapsedTime(start).TotalSeconds / to);
        }

        LibSoxr.End(state);
        return (ours, peer);
    }
}
