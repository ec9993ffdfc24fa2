using System.Runtime.InteropServices;
using LiveStems.Files.Reading;

namespace LiveStems.Files.Native;

/// <summary>Frames that libsndfile decodes.</summary>
internal sealed class SoundFileSource : FrameSource
{
    private readonly SoundBytes file;
    private readonly SoundFileDecoder decoder;

    // Frame that the decoder stands at; nowhere known at first.
    private long next = -1;

    private SoundFileSource(SoundBytes file, SoundFileDecoder decoder, AudioFileInfo info)
    {
        this.file = file;
        this.decoder = decoder;
        Info = info;
    }

    internal override AudioFileInfo Info { get; }

    internal override SampleLayout Layout => new(IsFloat: true, sizeof(float));

    /// <summary>Opens a file of a kind ("a FLAC file") that is left to the library.</summary>
    internal static SoundFileSource Open(SoundBytes file, string kind)
    {
        if (!SoundFileLibrary.IsThere)
        {
            throw file.Fault(LibraryInstallation.Needed(kind, LibraryInstallation.Advice()));
        }

        SoundFileDecoder decoder = SoundFileDecoder.Open(file, kind);
        try
        {
            SoundFileFacts facts = decoder.Facts;
            (SampleEncoding encoding, int bits) = CheckedCoding(file, kind, facts);
            long frames = facts.Frames is > 0 and < long.MaxValue ? facts.Frames : 0;
            if (frames == 0 || !decoder.Reaches(frames - 1))
            {
                decoder.Dispose();
                decoder = SoundFileDecoder.Open(file, kind);
                frames = CountedFrames(file, decoder, frames);
            }

            string container = SoundFileCoding.Container(facts.Format);
            AudioFileInfo info = new(file.Path, container, encoding, bits, facts.Channels, facts.SampleRate, frames);
            return new SoundFileSource(file, decoder, info);
        }
        catch
        {
            decoder.Dispose();
            throw;
        }
    }

    internal override int Fetch(long frame, Span<byte> destination)
    {
        if (frame != next && !decoder.Seek(frame))
        {
            next = -1;
            throw FileFault.Of(
                Info.Path, $"cannot be read from {FileFault.Seconds(frame, Info.SampleRate)} on; copy it again, or convert it to WAV");
        }

        int read = decoder.Read(MemoryMarshal.Cast<byte, float>(destination));
        next = frame + read;
        return read * sizeof(float) * Info.Channels;
    }

    public override void Dispose()
    {
        decoder.Dispose();
        file.Dispose();
    }

    private static (SampleEncoding Encoding, int Bits) CheckedCoding(SoundBytes file, string kind, SoundFileFacts facts)
    {
        if ((AudioLimits.FaultOfChannels(facts.Channels) ?? AudioLimits.FaultOfSampleRate(facts.SampleRate)) is string fault)
        {
            throw file.Fault(fault);
        }

        return SoundFileCoding.Coding(facts.Format)
            ?? throw file.Fault($"is {kind} of a coding that is not taken; decode it to a WAV file of 24-bit samples first");
    }

    /// <summary>
    /// Frames of a file that does not tell, as an encoder leaves it who wrote into a pipe, or does not reach its end: by
    /// decoding it once.
    /// </summary>
    private static long CountedFrames(SoundBytes file, SoundFileDecoder decoder, long claimed)
    {
        long frames = decoder.Count();
        int sampleRate = decoder.Facts.SampleRate;
        if (frames < claimed)
        {
            throw file.Fault($"breaks off after {FileFault.Seconds(frames, sampleRate)} of "
                + $"{FileFault.Seconds(claimed, sampleRate)}; copy or export it again");
        }

        return frames > 0 ? frames : throw file.Fault("holds no sound (0 frames); export it again");
    }
}
