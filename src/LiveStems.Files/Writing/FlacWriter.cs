using System.Runtime.InteropServices;
using LiveStems.Files.Native;

namespace LiveStems.Files.Writing;

/// <summary>
/// Writes a FLAC file of 16 or 24 bits through libsndfile, beside its target first, and lets it take the target's place
/// when it is complete.
/// </summary>
public sealed unsafe class FlacWriter : ISoundWriter
{
    private const int FlacContainer = 0x170000;
    private const int Sixteen = 0x0002;
    private const int TwentyFour = 0x0003;
    private const int FramesAtOnce = 4096;

    private readonly string path;
    private readonly int bits;
    private readonly TemporaryFile file;
    private readonly SoundFileSink sink;
    private readonly SoundFileHandle handle;
    private readonly int[] interleaved = new int[2 * FramesAtOnce];
    private bool isOpen = true;

    /// <summary>Starts a stereo file.</summary>
    /// <param name="path">Where the complete file shall stand; its folder must exist.</param>
    /// <param name="sampleRate">Frames per second, up to 192 000.</param>
    /// <param name="bits">16 or 24.</param>
    /// <param name="info">What the file says about its music; null for none.</param>
    /// <exception cref="AudioFileException">libsndfile is not installed, or the file may not be written.</exception>
    public FlacWriter(string path, int sampleRate, int bits, InfoTags? info)
    {
        if (bits is not (16 or 24))
        {
            throw new ArgumentException($"FLAC files of {bits} bits are not written; 16 and 24 are.", nameof(bits));
        }

        if (!IsPossible)
        {
            throw FileFault.Of(path, Needed());
        }

        this.path = path;
        this.bits = bits;
        try
        {
            file = new TemporaryFile(path);
        }
        catch (Exception cause) when (WritingFault.IsOfSystem(cause))
        {
            throw WritingFault.Of(path, cause);
        }

        sink = new SoundFileSink(file);
        VirtualFile calls = SoundFileSink.Calls;
        SoundFileFacts facts = new() { SampleRate = sampleRate, Channels = 2, Format = FlacContainer | (bits == 16 ? Sixteen : TwentyFour) };
        handle = SoundFileLibrary.Open(ref calls, SoundFileLibrary.WriteMode, ref facts, sink.UserData);
        if (handle.IsInvalid)
        {
            string why = SoundFileLibrary.OpeningError().TrimEnd('.', ' ', '\n');
            Dispose();
            throw FileFault.Of(path, $"cannot be written as FLAC ({why}); ask for WAV");
        }

        Tag(info);
    }

    /// <summary>Is the library installed?</summary>
    public static bool IsPossible => SoundFileLibrary.IsThere;

    /// <summary>What is said where the library is missing.</summary>
    public static string Needed() => LibraryInstallation.Needed("a FLAC file", LibraryInstallation.Advice()).Replace("convert the file to WAV", "ask for WAV", StringComparison.Ordinal);

    /// <inheritdoc/>
    public long Frames { get; private set; }

    /// <inheritdoc/>
    public long ClippedSamples { get; private set; }

    /// <inheritdoc/>
    public void Write(ReadOnlySpan<float> left, ReadOnlySpan<float> right)
    {
        ObjectDisposedException.ThrowIf(!isOpen, this);
        for (int done = 0; done < left.Length; done += FramesAtOnce)
        {
            int frames = Math.Min(FramesAtOnce, left.Length - done);
            for (int i = 0; i < frames; i++)
            {
                interleaved[2 * i] = Whole(left[done + i]);
                interleaved[2 * i + 1] = Whole(right[done + i]);
            }

            fixed (int* from = interleaved)
            {
                if (SoundFileLibrary.WriteFrames(handle, from, frames) != frames || sink.Fault is not null)
                {
                    isOpen = false;
                    throw Failed();
                }
            }

            Frames += frames;
        }
    }

    /// <inheritdoc/>
    public void Complete(FileNotes notes)
    {
        ObjectDisposedException.ThrowIf(!isOpen, this);
        isOpen = false;
        handle.Dispose();
        if (sink.Fault is not null)
        {
            throw Failed();
        }

        try
        {
            file.Keep();
        }
        catch (Exception cause) when (WritingFault.IsOfSystem(cause))
        {
            throw WritingFault.Of(path, cause);
        }
    }

    /// <summary>Lets go of the file; without <see cref="Complete"/> nothing of it remains.</summary>
    public void Dispose()
    {
        isOpen = false;
        handle?.Dispose();
        sink.Dispose();
        file.Dispose();
    }

    // The library takes 32-bit numbers and keeps the highest bits.
    private int Whole(float sample)
    {
        if (!float.IsFinite(sample))
        {
            throw FileFault.Of(path, "was not written, the sound has a sample that is no number; find what makes it there and mend that");
        }

        double rounded = Math.Round(Math.ScaleB(sample, bits - 1));
        double highest = Math.ScaleB(1, bits - 1) - 1;
        double kept = Math.Clamp(rounded, -highest - 1, highest);
        ClippedSamples += kept != rounded ? 1 : 0;
        return (int)kept << (32 - bits);
    }

    private void Tag(InfoTags? info)
    {
        if (info is null)
        {
            return;
        }

        Tag(1, info.Title);
        Tag(3, info.Software);
        Tag(4, info.Artist);
        Tag(6, info.Date);
        Tag(7, info.Album);
        Tag(9, info.Track?.ToString() ?? string.Empty);

        // The library has no name for the code; as a comment it is kept and found.
        Tag(5, info.Isrc.Length == 0 ? string.Empty : $"ISRC {info.Isrc}");
    }

    private void Tag(int kind, string text)
    {
        if (text.Length > 0)
        {
            nint bytes = Marshal.StringToCoTaskMemUTF8(text);
            SoundFileLibrary.SetText(handle, kind, bytes);
            Marshal.FreeCoTaskMem(bytes);
        }
    }

    private AudioFileException Failed() => sink.Fault is { } cause
        ? WritingFault.Of(path, cause)
        : FileFault.Of(path, "cannot be written as FLAC; ask for WAV");
}
