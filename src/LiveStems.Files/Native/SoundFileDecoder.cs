using LiveStems.Files.Reading;

namespace LiveStems.Files.Native;

/// <summary>A file open in libsndfile, with the faults of its bytes told as ours.</summary>
internal sealed class SoundFileDecoder : IDisposable
{
    private readonly SoundFileBytes bytes;
    private readonly SoundFileHandle handle;

    private SoundFileDecoder(SoundFileBytes bytes, SoundFileHandle handle, SoundFileFacts facts)
    {
        this.bytes = bytes;
        this.handle = handle;
        Facts = facts;
    }

    /// <summary>What the library says of the file; unchecked.</summary>
    internal SoundFileFacts Facts { get; }

    /// <summary>Opens a file of a kind ("a FLAC file").</summary>
    internal static SoundFileDecoder Open(SoundBytes file, string kind)
    {
        SoundFileBytes bytes = new(file);
        VirtualFile calls = SoundFileBytes.Calls;
        SoundFileFacts facts = default;
        SoundFileHandle handle = SoundFileLibrary.Open(ref calls, SoundFileLibrary.ReadMode, ref facts, bytes.UserData);
        if (!handle.IsInvalid)
        {
            return new SoundFileDecoder(bytes, handle, facts);
        }

        handle.Dispose();
        bytes.Dispose();
        throw bytes.Fault ?? file.Fault(
            $"is {kind} that libsndfile cannot read ({SoundFileLibrary.OpeningError().TrimEnd('.', ' ', '\n')}); "
            + "copy it again, or convert it to WAV");
    }

    /// <summary>Goes to a frame; false where that is not possible.</summary>
    internal bool Seek(long frame)
    {
        bool isThere = SoundFileLibrary.Seek(handle, frame, 0) == frame;
        return bytes.Fault is null ? isThere : throw bytes.Fault;
    }

    /// <summary>Can this frame be decoded?</summary>
    internal bool Reaches(long frame)
    {
        Span<float> one = stackalloc float[Facts.Channels];
        return Seek(frame) && Read(one) == 1;
    }

    /// <summary>Reads interleaved frames until the destination is full or the file ends; returns how many.</summary>
    internal unsafe int Read(Span<float> interleaved)
    {
        fixed (float* to = interleaved)
        {
            long frames = SoundFileLibrary.ReadFrames(handle, to, interleaved.Length / Facts.Channels);
            return bytes.Fault is null ? (int)Math.Max(0, frames) : throw bytes.Fault;
        }
    }

    /// <summary>Decodes from here to the end and returns how many frames that were.</summary>
    internal long Count()
    {
        float[] block = new float[4096 * Facts.Channels];
        long frames = 0;
        int read;
        do
        {
            read = Read(block);
            frames += read;
        }
        while (read > 0);

        return frames;
    }

    /// <inheritdoc/>
    public void Dispose()
    {
        // Closing may still call for bytes.
        handle.Dispose();
        bytes.Dispose();
    }
}
