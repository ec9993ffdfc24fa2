using LiveStems.Engine.Streaming;
using LiveStems.Files;
using LiveStems.Files.Reading;

namespace LiveStems.Analysis.Intake;

/// <summary>One open file of a song on its way through the check: scanned as it is read, at the song's rate.</summary>
internal sealed class SongInput : IDisposable
{
    private readonly float[] left;
    private readonly float[] right;
    private IAudioReader? scanned;
    private IAudioReader? reader;
    private long silence;

    private SongInput(IntakeFile file, int chunkFrames)
    {
        File = file;
        left = new float[chunkFrames];
        right = new float[chunkFrames];
    }

    public IntakeFile File { get; }

    public AudioFileInfo? Info { get; private set; }

    public StemScan? Scan { get; private set; }

    /// <summary>What stopped it from being read, if anything did.</summary>
    public string? Fault { get; private set; }

    /// <summary>Frames at the song's rate, 0 for what cannot be read.</summary>
    public long Frames => reader?.Info.Frames ?? 0;

    /// <summary>Frames read so far.</summary>
    public long Position => reader?.Position ?? 0;

    public static SongInput Open(IntakeFile file, int chunkFrames)
    {
        SongInput input = new(file, chunkFrames);
        try
        {
            input.scanned = AudioFile.Open(file.Path);
            input.Info = input.scanned.Info;
        }
        catch (AudioFileException fault)
        {
            input.Fault = fault.Message;
        }

        return input;
    }

    /// <summary>Gets ready to read at a rate.</summary>
    /// <param name="sampleRate">The song's rate.</param>
    /// <param name="withScan">True to scan the file on the way.</param>
    /// <param name="skip">Frames at that rate to leave out at the start; negative to let as much silence go before.</param>
    public void Start(int sampleRate, bool withScan, long skip)
    {
        if (scanned is null)
        {
            return;
        }

        if (withScan)
        {
            Scan = new StemScan(scanned.Info);
            scanned = new ScannedReader(scanned, Scan);
        }

        reader = scanned.Info.SampleRate == sampleRate ? scanned : new ResampledReader(scanned, sampleRate);
        silence = Math.Max(-skip, 0);
        if (skip > 0)
        {
            reader.Seek(Math.Min(skip, reader.Info.Frames));
        }
    }

    /// <summary>Reads the next chunk into both sides of a frame; what lies beyond the end is silence.</summary>
    public void Read(Span<float> toLeft, Span<float> toRight)
    {
        int first = (int)Math.Min(silence, toLeft.Length);
        silence -= first;
        toLeft[..first].Clear();
        toRight[..first].Clear();
        int frames = 0;
        try
        {
            frames = reader?.Read(toLeft[first..], toRight[first..]) ?? 0;
        }
        catch (AudioFileException fault)
        {
            Fault = fault.Message;
            reader = null;
        }

        toLeft[(first + frames)..].Clear();
        toRight[(first + frames)..].Clear();
    }

    /// <summary>Lets the scan hear what a change of rate left unread at the end.</summary>
    public void ReadRest()
    {
        try
        {
            while (Fault is null && scanned is not null && scanned.Read(left, right) > 0)
            {
            }
        }
        catch (AudioFileException fault)
        {
            Fault = fault.Message;
        }
    }

    public void Dispose() => scanned?.Dispose();
}
