using System.Security.Cryptography;
using LiveStems.Albums.Model;
using LiveStems.Analysis.Caching;
using LiveStems.Dsp;
using LiveStems.Dsp.Loudness;
using LiveStems.Files.Reading;

namespace LiveStems.Analysis.Delivery;

/// <summary>
/// Reads a finished file back and measures it before it counts as delivered: length, null against what was meant to be in
/// it, loudness, true peak by an independent sixteenfold method, clipping, DC, silence at head and tail, dither.
/// </summary>
internal static class FileGate
{
    private const double LongestHeadSeconds = 2;
    private const double LongestTailSeconds = 10;
    private const double LargestDcDbfs = -60;

    // The limiter's promise on any signal, and no more.
    private const double PeakAllowanceDb = 0.1;

    // Dither adds less than this to anything that is louder than the quietest music.
    private const double LargestLoudnessErrorLu = 0.1;
    private const double QuietestMusicLufs = -60;

    private const int FramesAtOnce = 4096;

    /// <summary>What a file is held against.</summary>
    /// <param name="Reference">The float file it was made from.</param>
    /// <param name="Format">Its form.</param>
    /// <param name="CeilingDbtp">Highest true peak it may have, or null where none was promised.</param>
    internal sealed record Expectation(string Reference, DeliveryFormat Format, double? CeilingDbtp)
    {
        /// <summary>What helps where the peak lies above the ceiling.</summary>
        public string CeilingAdvice { get; init; } = "'livestems set ALBUM --to-target' sets the limiter below it";

        /// <summary>Loudness of what was written, and what the file says of itself.</summary>
        public double IntegratedLufs { get; init; } = double.NegativeInfinity;

        /// <summary>What a master should be like; null where nothing was promised.</summary>
        public DeliveryTargets? Targets { get; init; }
    }

    /// <summary>What was read.</summary>
    internal sealed record Reading(AudioFileInfo Info, LoudnessReport Loudness, double PreciseTruePeakDbtp, string Sha256, long Bytes, IReadOnlyList<string> Notes);

    /// <summary>Lets a file pass.</summary>
    /// <exception cref="DeliveryException">It does not pass; the message names the cause.</exception>
    public static Reading Check(string path, string name, Expectation expected, CancellationToken cancellation)
    {
        using IAudioReader reader = AudioFile.Open(path);
        using StoredSound reference = new(expected.Reference, FramesAtOnce);
        if (reader.Info.Frames != reference.Frames)
        {
            throw Refused(name, $"it has {reader.Info.Frames} frames and should have {reference.Frames}");
        }

        GateTally tally = new(reader.Info.SampleRate, expected.Format.Bits);
        float[] left = new float[FramesAtOnce];
        float[] right = new float[FramesAtOnce];
        int frames;
        while ((frames = reader.Read(left, right)) > 0)
        {
            cancellation.ThrowIfCancellationRequested();
            reference.Read(frames);
            tally.Add(left.AsSpan(0, frames), right.AsSpan(0, frames), reference.Left, reference.Right);
        }

        Judge(name, expected, tally, reader.Info.SampleRate);
        return new Reading(reader.Info, tally.Loudness, tally.TruePeakDbtp, Digest(path, cancellation), new FileInfo(path).Length, [.. Remarks(tally, reader.Info), .. OffTarget(expected, tally.Loudness)]);
    }

    private static void Judge(string name, Expectation expected, GateTally tally, int sampleRate)
    {
        // Triangular dither moves a sample by less than one and a half steps, shaped dither by the sum of its taps as well.
        double step = Math.ScaleB(1, 1 - expected.Format.Bits);
        double most = expected.Format.Dither switch { DitherKind.None => 0, DitherKind.Triangular => 1.5 * step, _ => 40 * step };
        if (tally.LargestError > most)
        {
            throw Refused(name, $"it differs from what was rendered by up to {Decibels.FromAmplitude(tally.LargestError):0.0} dBFS");
        }

        if (expected.CeilingDbtp is { } ceiling && tally.TruePeakDbtp > ceiling + PeakAllowanceDb)
        {
            throw Refused(name, $"its true peak of {tally.TruePeakDbtp:0.00} dBTP lies above the ceiling of {ceiling:0.00} dBTP; {expected.CeilingAdvice}");
        }

        if (tally.FirstClippedFrame is { } clipped)
        {
            throw Refused(name, $"it is clipped from {(double)clipped / sampleRate:0.000} s on; lower the limiter's ceiling");
        }

        double loudness = tally.Loudness.IntegratedLufs;
        if (expected.IntegratedLufs > QuietestMusicLufs && !(Math.Abs(loudness - expected.IntegratedLufs) <= LargestLoudnessErrorLu))
        {
            throw Refused(name, $"it measures {loudness:0.0} LUFS, and what was rendered {expected.IntegratedLufs:0.0} LUFS");
        }

        if (tally.DcDbfs > LargestDcDbfs)
        {
            throw Refused(name, $"it carries DC of {tally.DcDbfs:0.0} dBFS; switch the DC block of a gain and alignment processor on in the stem that has it");
        }

        if (expected.Format.Dither != DitherKind.None && tally.LacksDither)
        {
            throw Refused(name, "its last bit never moves though sound is there: the dither is missing");
        }
    }

    private static IEnumerable<string> Remarks(GateTally tally, AudioFileInfo info)
    {
        double head = tally.HeadFrames / (double)info.SampleRate;
        double tail = tally.TailFrames / (double)info.SampleRate;
        if (tally.IsSilent)
        {
            yield return "silent throughout";
        }
        else
        {
            if (head > LongestHeadSeconds)
            {
                yield return $"starts with {head:0.0} s of silence";
            }

            if (tail > LongestTailSeconds)
            {
                yield return $"ends with {tail:0.0} s of silence";
            }
        }
    }

    // Off its target a master is what the album says, and the engineer's to judge; above its ceiling it is refused.
    private static IEnumerable<string> OffTarget(Expectation expected, LoudnessReport loudness)
    {
        double off = loudness.IntegratedLufs - (expected.Targets?.IntegratedLufs ?? double.NaN);
        double ratio = loudness.PeakToLoudnessLu ?? double.NaN;
        double least = expected.Targets?.LeastPeakToLoudnessLu ?? double.NegativeInfinity;
        if (ratio < least - LargestLoudnessErrorLu)
        {
            yield return $"peak-to-loudness ratio of {ratio:0.0} LU, {least - ratio:0.0} LU below the least of {least:0.0} LU";
        }

        // Where the ratio holds a song back, it is quieter than the loudness asked for, and meant to be.
        bool isHeldBack = off < 0 && ratio <= least + LargestLoudnessErrorLu;
        if (Math.Abs(off) > LargestLoudnessErrorLu && !isHeldBack)
        {
            yield return $"{Math.Abs(off):0.0} LU {(off > 0 ? "above" : "below")} the target of {expected.Targets!.IntegratedLufs:0.0} LUFS";
        }
    }

    private static DeliveryException Refused(string name, string why) => new($"{name}: {why}; nothing was delivered");

    /// <summary>SHA-256 of a file, in small letters.</summary>
    public static string Digest(string path, CancellationToken cancellation)
    {
        using FileStream stream = new(path, FileMode.Open, FileAccess.Read, FileShare.Read, 1 << 16, FileOptions.SequentialScan);
        using IncrementalHash hash = IncrementalHash.CreateHash(HashAlgorithmName.SHA256);
        byte[] buffer = new byte[1 << 16];
        int read;
        while ((read = stream.Read(buffer)) > 0)
        {
            cancellation.ThrowIfCancellationRequested();
            hash.AppendData(buffer.AsSpan(0, read));
        }

        return Convert.ToHexStringLower(hash.GetHashAndReset());
    }
}
