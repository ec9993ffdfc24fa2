using LiveStems.Files.Reading;

namespace LiveStems.Analysis.Intake;

/// <summary>Checks one song: all its files side by side in one pass, each scanned and held against the others.</summary>
internal sealed class SongCheck(IntakeSong song)
{
    private const double ShortestSeconds = 3;
    private const int LongestFrame = 32_768;
    private const int ShortestFrame = 2048;
    private const long MemoryForSpectra = 64L << 20;
    private const int MostPasses = 3;

    private IReadOnlyList<SongInput> inputs = [];
    private int stems;
    private int sampleRate;

    /// <summary>Reads the files and measures them.</summary>
    /// <param name="progress">Told the share done, 0 to 1; may be null.</param>
    /// <param name="cancellation">Stops between two chunks.</param>
    public SongFacts Run(Action<double>? progress, CancellationToken cancellation)
    {
        List<IntakeFile> files = [.. song.Files.Where(file => !file.IsRoughMix)];
        stems = files.Count;
        files.AddRange(song.Files.Where(file => file.IsRoughMix).Take(1));
        CrossSpectra? spectra = Pass(files, new long[files.Count], DamagedTimes.None, withScan: true, share => progress?.Invoke(share * 0.98), cancellation);
        SongFile[] scanned = [.. inputs.Select(input => new SongFile(input.File, input.Fault, input.Fault is null ? input.Scan?.Finish() : null))];
        bool hasMix = files.Count > stems && scanned[^1].Facts is { IsSilent: false };
        MixComparison? mix = null;
        if (spectra is not null && hasMix)
        {
            mix = CompareWithMix(files, scanned, spectra, cancellation);
        }

        IReadOnlyList<StemRelation> relations = spectra is null ? [] : StemRelations.Find(spectra, stems);
        progress?.Invoke(1);
        return new SongFacts(song.Title, sampleRate, [.. scanned[..stems]], files.Count > stems ? scanned[^1] : null, mix, relations, spectra is not null);
    }

    private MixComparison CompareWithMix(List<IntakeFile> files, SongFile[] scanned, CrossSpectra spectra, CancellationToken cancellation)
    {
        (DelayEstimate[] delays, MixResponse[] sides) = MixJudgement.Locate(spectra, stems);
        long[] moved = new long[files.Count];
        DamagedTimes damaged = DamagedTimes.None;
        double leftOutShare = 0;
        for (int pass = 1; pass < MostPasses; pass++)
        {
            // Frames of signals that lie apart hold different sound at their ends, which lowers gains: put them together first.
            bool isMoved = false;
            for (int stem = 0; stem < stems; stem++)
            {
                long frames = delays[stem].IsKnown ? (long)Math.Round(delays[stem].Frames) : 0;
                moved[stem] -= frames;
                isMoved |= frames != 0;
            }

            damaged = DamagedTimes.Of(scanned, moved, sampleRate);
            if (!isMoved && (pass > 1 || damaged.IsEmpty))
            {
                break;
            }

            spectra = Pass(files, moved, damaged, withScan: false, _ => { }, cancellation)!;
            leftOutShare = spectra.LeftOutShare;
            (delays, sides) = MixJudgement.Locate(spectra, stems);
        }

        return MixJudgement.Compare(spectra, sides, delays, moved, leftOutShare, sampleRate);
    }

    private CrossSpectra? Pass(List<IntakeFile> files, long[] skips, DamagedTimes damaged, bool withScan, Action<double> report, CancellationToken cancellation)
    {
        List<SongInput> opened = [.. files.Select(file => SongInput.Open(file, ShortestFrame))];
        try
        {
            inputs = opened;
            AudioFileInfo[] infos = [.. opened.Take(stems).Select(input => input.Info).OfType<AudioFileInfo>()];
            sampleRate = infos.GroupBy(info => info.SampleRate).OrderByDescending(group => group.Count()).ThenByDescending(group => group.Key).FirstOrDefault()?.Key
                ?? opened.Select(input => input.Info?.SampleRate).FirstOrDefault(rate => rate is not null) ?? 48_000;
            for (int i = 0; i < opened.Count; i++)
            {
                opened[i].Start(sampleRate, withScan, skips[i]);
            }

            long frames = opened.Count == 0 ? 0 : opened.Max(input => input.Frames);
            (int size, DamagedTimes leftOut) = FrameSize(opened.Count, frames, damaged);
            CrossSpectra? spectra = size == 0 ? null : new CrossSpectra(opened.Count, size);
            ReadAll(opened, spectra, leftOut, frames, report, cancellation);
            return spectra;
        }
        finally
        {
            opened.ForEach(input => input.Dispose());
        }
    }

    private static void ReadAll(List<SongInput> opened, CrossSpectra? spectra, DamagedTimes leftOut, long frames, Action<double> report, CancellationToken cancellation)
    {
        int chunk = spectra is null ? ShortestFrame : spectra.Size / 2;
        SideSpectra[] sides = [.. opened.Select(_ => new SideSpectra(2 * chunk))];

        // The last half frame goes through a frame of its own with silence after it.
        for (long done = 0; done < frames + chunk; done += chunk)
        {
            cancellation.ThrowIfCancellationRequested();
            Parallel.For(0, opened.Count, i =>
            {
                opened[i].Read(sides[i].Next(0), sides[i].Next(1));
                if (spectra is not null)
                {
                    sides[i].Advance();
                }
            });
            if (leftOut.Touch(done - chunk, done + chunk))
            {
                spectra?.LeaveOut();
            }
            else
            {
                spectra?.Add(sides);
            }

            report(Math.Min((double)done / frames, 1));
        }

        Parallel.ForEach(opened, input => input.ReadRest());
    }

    // Long frames see long delays; but there must be several times as many frames as stems, and room for them, and no more
    // than half of them may be lost to damage. Where even short frames leave less, damage is the rule and nothing is left out.
    private (int Size, DamagedTimes LeftOut) FrameSize(int signals, long frames, DamagedTimes damaged)
    {
        if (frames < ShortestSeconds * sampleRate || signals < 2)
        {
            return (0, DamagedTimes.None);
        }

        int size = sampleRate > 50_000 ? 2 * LongestFrame : LongestFrame;
        while (size > ShortestFrame && !IsEnough(size))
        {
            size /= 2;
        }

        return damaged.IsEmpty || IsEnough(size) ? (size, damaged) : FrameSize(signals, frames, DamagedTimes.None);

        bool IsEnough(int size)
        {
            long all = frames / (size / 2), whole = all - damaged.Windows(frames, size / 2);
            return whole >= Math.Max(6 * signals, 32) && 2 * whole >= all && CrossSpectra.Memory(signals, size) <= MemoryForSpectra;
        }
    }
}
