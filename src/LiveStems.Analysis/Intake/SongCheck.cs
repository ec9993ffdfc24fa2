using LiveStems.Files.Reading;

namespace LiveStems.Analysis.Intake;

/// <summary>Checks one song: all its files side by side in one pass, each scanned and held against the others.</summary>
internal sealed class SongCheck(IntakeSong song)
{
    private const double ShortestSeconds = 3;
    private const int LongestFrame = 32_768;
    private const int ShortestFrame = 2048;
    private const long MemoryForSpectra = 64L << 20;

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
        CrossSpectra? spectra = Pass(files, [], withScan: true, share => progress?.Invoke(share * 0.98), cancellation);
        SongFile[] scanned = [.. inputs.Select(input => new SongFile(input.File, input.Fault, input.Fault is null ? input.Scan?.Finish() : null))];
        bool hasMix = files.Count > stems && scanned[^1].Facts is { IsSilent: false };
        MixComparison? mix = null;
        if (spectra is not null && hasMix)
        {
            mix = CompareWithMix(files, spectra, cancellation);
        }

        IReadOnlyList<StemRelation> relations = spectra is null ? [] : StemRelations.Find(spectra, stems);
        progress?.Invoke(1);
        return new SongFacts(song.Title, sampleRate, [.. scanned[..stems]], files.Count > stems ? scanned[^1] : null, mix, relations, spectra is not null);
    }

    private MixComparison CompareWithMix(List<IntakeFile> files, CrossSpectra spectra, CancellationToken cancellation)
    {
        (DelayEstimate[] delays, MixResponse[] sides) = MixJudgement.Locate(spectra, stems);
        long[] moved = new long[files.Count];
        for (int stem = 0; stem < stems; stem++)
        {
            moved[stem] = delays[stem].IsKnown ? -(long)Math.Round(delays[stem].Frames) : 0;
        }

        // Frames of signals that lie apart hold different sound at their ends, which lowers gains: put them together first.
        if (moved.Any(frames => frames != 0))
        {
            spectra = Pass(files, moved, withScan: false, _ => { }, cancellation)!;
            (delays, sides) = MixJudgement.Locate(spectra, stems);
        }

        return MixJudgement.Compare(spectra, sides, delays, moved, sampleRate);
    }

    private CrossSpectra? Pass(List<IntakeFile> files, long[] skips, bool withScan, Action<double> report, CancellationToken cancellation)
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
                opened[i].Start(sampleRate, withScan, skips.Length == 0 ? 0 : skips[i]);
            }

            long frames = opened.Count == 0 ? 0 : opened.Max(input => input.Frames);
            int size = FrameSize(opened.Count, frames);
            CrossSpectra? spectra = size == 0 ? null : new CrossSpectra(opened.Count, size);
            ReadAll(opened, spectra, frames, report, cancellation);
            return spectra;
        }
        finally
        {
            opened.ForEach(input => input.Dispose());
        }
    }

    private static void ReadAll(List<SongInput> opened, CrossSpectra? spectra, long frames, Action<double> report, CancellationToken cancellation)
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
            spectra?.Add(sides);
            report(Math.Min((double)done / frames, 1));
        }

        Parallel.ForEach(opened, input => input.ReadRest());
    }

    // Long frames see long delays; but there must be several times as many frames as stems, and room for them.
    private int FrameSize(int signals, long frames)
    {
        if (frames < ShortestSeconds * sampleRate || signals < 2)
        {
            return 0;
        }

        int size = sampleRate > 50_000 ? 2 * LongestFrame : LongestFrame;
        while (size > ShortestFrame && (frames / (size / 2) < Math.Max(6 * signals, 32) || CrossSpectra.Memory(signals, size) > MemoryForSpectra))
        {
            size /= 2;
        }

        return size;
    }
}
