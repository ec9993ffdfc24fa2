using System.Runtime.InteropServices;
using LiveStems.Files.Reading;

namespace LiveStems.Files.Native;

/// <summary>Frames that libsndfile decodes.</summary>
internal sealed class SoundFileSource : FrameSource
{
    private readonly SoundFileBytes bytes;
    private readonly SoundFileHandle handle;
    private long next;

    private SoundFileSource(SoundFileBytes bytes, SoundFileHandle handle, AudioFileInfo info)
    {
        this.bytes = bytes;
        this.handle = handle;
        Info = info;
    }

    internal override AudioFileInfo Info { get; }

    internal override SampleLayout Layout => new(IsFloat: true, sizeof(float));

    /// <summary>Opens a file of a kind that is left to the library.</summary>
    internal static SoundFileSource Open(SoundBytes file, string kind)
    {
        if (!SoundFileLibrary.IsThere)
        {
            throw file.Fault(LibraryInstallation.Needed(kind, LibraryInstallation.Advice()));
        }

        SoundFileBytes bytes = new(file);
        SoundFileHandle? handle = null;
        try
        {
            VirtualFile calls = SoundFileBytes.Calls;
            SoundFileFacts facts = default;
            handle = SoundFileLibrary.Open(ref calls, SoundFileLibrary.ReadMode, ref facts, bytes.UserData);
            if (handle.IsInvalid)
            {
                throw bytes.Fault ?? file.Fault(
                    $"is a {kind} file that cannot be read ({SoundFileLibrary.OpeningError().TrimEnd('.', ' ', '\n')}); "
                    + "copy it again, or convert it to WAV");
            }

            return new SoundFileSource(bytes, handle, CheckedInfo(file, kind, handle, facts));
        }
        catch
        {
            handle?.Dispose();
            bytes.Dispose();
            throw;
        }
    }

    internal override int Fetch(long frame, Span<byte> destination)
    {
        if (frame != next && SoundFileLibrary.Seek(handle, frame, 0) != frame)
        {
            next = -1;
            throw bytes.Fault ?? FileFault.Of(Info.Path,
                $"cannot be read from {FileFault.Seconds(frame, Info.SampleRate)} on; copy it again, or convert it to WAV");
        }

        int frames = destination.Length / sizeof(float) / Info.Channels;
        int read = Read(handle, MemoryMarshal.Cast<byte, float>(destination), frames);
        next = frame + read;
        return bytes.Fault is null ? read * sizeof(float) * Info.Channels : throw bytes.Fault;
    }

    public override void Dispose()
    {
        // Closing may still call for bytes.
        handle.Dispose();
        bytes.Dispose();
    }

    private static AudioFileInfo CheckedInfo(SoundBytes file, string kind, SoundFileHandle handle, SoundFileFacts facts)
    {
        if ((AudioLimits.FaultOfChannels(facts.Channels) ?? AudioLimits.FaultOfSampleRate(facts.SampleRate)) is string fault)
        {
            throw file.Fault(fault);
        }

        if (SoundFileCoding.Coding(facts.Format) is not (SampleEncoding encoding, int bits))
        {
            throw file.Fault($"is a {kind} file of a coding that is not taken; decode it to a WAV file of 24-bit samples first");
        }

        long frames = facts.Frames is > 0 and < long.MaxValue ? facts.Frames : Count(handle, facts.Channels);
        if (frames == 0)
        {
            throw file.Fault("holds no sound (0 frames); export it again");
        }

        string container = SoundFileCoding.Container(facts.Format) ?? kind;
        return new AudioFileInfo(file.Path, container, encoding, bits, facts.Channels, facts.SampleRate, frames);
    }

    /// <summary>Frames of a file that does not tell, as an encoder leaves it who wrote into a pipe: by decoding it once.</summary>
    private static long Count(SoundFileHandle handle, int channels)
    {
        const int BlockFrames = 4096;
        float[] block = new float[BlockFrames * channels];
        long frames = 0;
        int read;
        do
        {
            read = Read(handle, block, BlockFrames);
            frames += read;
        }
        while (read > 0);

        return SoundFileLibrary.Seek(handle, 0, 0) == 0 ? frames : 0;
    }

    private static unsafe int Read(SoundFileHandle handle, Span<float> interleaved, int frames)
    {
        fixed (float* to = interleaved)
        {
            return (int)Math.Max(0, SoundFileLibrary.ReadFrames(handle, to, frames));
        }
    }
}
