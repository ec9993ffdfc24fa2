using System.Collections.Immutable;
using LiveStems.Files.Reading;

namespace LiveStems.Analysis.Trouble;

/// <summary>
/// The harshness search: what stands above a stem's own smooth trend, when, and how much it hurts. Takes a stem in blocks of
/// any length; memory does not grow with it. One thread at a time.
/// </summary>
public sealed class TroubleSearch
{
    /// <summary>Shorter stems leave too few frames for anything that must last, seconds.</summary>
    public const double ShortestSeconds = 3;

    private const int FramesAtOnce = 16_384;

    private readonly int sampleRate;
    private readonly TroubleSettings settings;
    private readonly SlowBands slow;
    private readonly EndBands ends;
    private readonly QuickEvents quick;
    private readonly PeakMeters peaks;
    private long frames;

    /// <summary>Prepares a search.</summary>
    /// <param name="sampleRate">Frames per second, 8 000 to 384 000.</param>
    /// <param name="settings">What is taken as given.</param>
    public TroubleSearch(int sampleRate, TroubleSettings settings)
    {
        this.sampleRate = sampleRate;
        this.settings = settings;
        slow = new SlowBands(sampleRate);
        ends = new EndBands(sampleRate);
        quick = new QuickEvents(sampleRate);
        peaks = new PeakMeters(sampleRate);
    }

    /// <summary>Searches a file from where it stands to its end.</summary>
    /// <param name="reader">The file.</param>
    /// <param name="settings">What is taken as given.</param>
    /// <param name="progress">Told the share done, 0 to 1; may be null.</param>
    /// <param name="cancellation">Stops between two stretches.</param>
    /// <exception cref="Files.AudioFileException">The file cannot be read.</exception>
    /// <exception cref="OperationCanceledException">It was cancelled.</exception>
    public static TroubleReport Search(IAudioReader reader, TroubleSettings settings, IProgress<double>? progress, CancellationToken cancellation)
    {
        TroubleSearch search = new(reader.Info.SampleRate, settings);
        float[] left = new float[FramesAtOnce];
        float[] right = new float[FramesAtOnce];
        int count;
        while ((count = reader.Read(left, right)) > 0)
        {
            cancellation.ThrowIfCancellationRequested();
            search.Add(left.AsSpan(0, count), right.AsSpan(0, count));
            progress?.Report((double)reader.Position / Math.Max(1, reader.Info.Frames));
        }

        return search.Finish();
    }

    /// <summary>Adds any number of frames, full scale ±1; both sides have one length, a mono file twice the same.</summary>
    public void Add(ReadOnlySpan<float> left, ReadOnlySpan<float> right)
    {
        frames += left.Length;
        slow.Add(left, right);
        ends.Add(left, right);
        quick.Add(left, right);
        peaks.Add(left, right);
    }

    /// <summary>Ends the stem and tells what was found.</summary>
    public TroubleReport Finish()
    {
        slow.Finish();
        ends.Finish();
        quick.Finish();
        double seconds = (double)frames / sampleRate;
        StemRows rows = new(slow, seconds);
        List<TroubleFinding> findings = [];
        List<string> notJudged = [];
        if (rows.ActiveCount == 0)
        {
            notJudged.Add("nothing sounds");
        }
        else
        {
            EndRows endRows = new(ends, seconds);
            findings.AddRange(new EndsFinder(endRows, ends, peaks, settings).Find());
            findings.AddRange(new EventsFinder(quick, settings, seconds, Math.Max(0.1, rows.ActiveShare * seconds)).Find());
            if (seconds < ShortestSeconds)
            {
                notJudged.Add($"{seconds:0.0} s are too short for resonances, ringing tones, glare, mud and hum, which must last to be told from notes; {ShortestSeconds:0} s are needed");
            }
            else
            {
                findings.AddRange(Lasting(rows, endRows));
            }
        }

        return new TroubleReport(
            seconds, rows.ActiveShare, settings.ListeningLevelDb, [.. findings.OrderByDescending(finding => finding.SurplusDb)], [.. notJudged]);
    }

    private List<TroubleFinding> Lasting(StemRows rows, EndRows endRows)
    {
        Describer describer = new(slow, rows, settings);
        List<TroubleFinding> lasting = [.. new BroadFinder(endRows, settings, ends.Levels.RowSeconds).Find()];
        List<TroubleFinding> tones = [.. new LineFinder(slow, rows, settings).Find().Select(tone => describer.Tone(tone.Peak, tone.LineDb, 0.5))];
        lasting.AddRange(tones);
        lasting.AddRange(TogetherRule.Apply(new SurplusFinder(slow, rows, settings).Find().Select(found => (describer.Resonance(found), found.IsRound)))
            .Where(resonance => !tones.Exists(tone => Math.Abs(Math.Log2(tone.CentreHz / resonance.CentreHz)) < 0.2)));
        if (new HumFinder(slow.Hum, settings).Find(seconds: rows.Seconds) is { } hum)
        {
            lasting.Add(hum);
        }

        return lasting;
    }
}
