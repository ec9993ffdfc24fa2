namespace LiveStems.Files.Writing;

/// <summary>
/// Writes a WAV file beside its target and puts it in the target's place when it is complete, so that no half file is
/// ever seen under its name. Files over 4 GiB become RF64.
/// </summary>
/// <remarks>
/// Whole numbers are rounded to the nearest and saturate; dither belongs before. One thread at a time; writing allocates
/// nothing.
/// </remarks>
public sealed class WavWriter : ISoundWriter
{
    private const int BufferBytes = 64 * 1024;

    private readonly string path;
    private readonly long longestRiff;
    private readonly SampleEncoder encoder;
    private readonly byte[] buffer;
    private readonly TemporaryFile file;
    private readonly FileNotes startNotes;
    private readonly int headerBytes;
    private int filled;
    private long offset;
    private bool isOpen;

    /// <summary>Starts a file.</summary>
    /// <param name="path">Where the complete file shall stand; its folder must exist. A file that stands there is replaced.</param>
    /// <param name="format">The form of its samples.</param>
    /// <exception cref="ArgumentException">The form is not one that is written.</exception>
    /// <exception cref="AudioFileException">The folder is missing, full, or may not be written to.</exception>
    public WavWriter(string path, WavFormat format)
        : this(path, format, FileNotes.None)
    {
    }

    /// <summary>Starts a file that can be made again at any time: nothing waits until it is on the disk, so it may be cut short or gone when the power fails.</summary>
    /// <inheritdoc cref="WavWriter(string, WavFormat)"/>
    public static WavWriter Passing(string path, WavFormat format) =>
        new(path, format, uint.MaxValue, target => new TemporaryFile(target, isLasting: false));

    /// <summary>Starts a file with notes before its sound; their values may change until it is complete, their lengths may not.</summary>
    /// <inheritdoc cref="WavWriter(string, WavFormat)"/>
    public WavWriter(string path, WavFormat format, FileNotes notes)
        : this(path, format, uint.MaxValue, target => new TemporaryFile(target), notes)
    {
    }

    internal WavWriter(string path, WavFormat format, long longestRiff, Func<string, TemporaryFile> create, FileNotes? notes = null)
    {
        ArgumentNullException.ThrowIfNull(path);
        ArgumentNullException.ThrowIfNull(format);
        format.Check();
        this.path = path;
        this.longestRiff = longestRiff;
        Format = format;
        encoder = new SampleEncoder(format);
        startNotes = notes ?? FileNotes.None;
        byte[] header = WavHeaderBytes.Of(format, 0, longestRiff, startNotes);
        headerBytes = header.Length;
        int bytes = Math.Max(BufferBytes, header.Length);
        buffer = GC.AllocateUninitializedArray<byte>(bytes / format.FrameBytes * format.FrameBytes + format.FrameBytes);
        if (Directory.Exists(path))
        {
            throw FileFault.Of(path, "is a folder; name a file in it");
        }

        // A complete file would take the device's place.
        if (IsDevice(Path.GetFullPath(path)))
        {
            throw FileFault.Of(path, "is a device; name a file");
        }

        try
        {
            file = create(path);
            header.CopyTo(buffer, 0);
            filled = header.Length;
            isOpen = true;
        }
        catch (Exception cause) when (WritingFault.IsOfSystem(cause))
        {
            throw WritingFault.Of(path, cause);
        }
    }

    /// <summary>The form of the file.</summary>
    public WavFormat Format { get; }

    /// <summary>Frames written so far.</summary>
    public long Frames { get; private set; }

    /// <summary>
    /// Samples so far that lay outside the range of whole numbers after rounding and were cut to it; +1.0 itself is one
    /// step outside. Always 0 in a float file.
    /// </summary>
    public long ClippedSamples => encoder.ClippedSamples;

    /// <summary>Writes frames of a stereo file, full scale ±1; both spans have the same length.</summary>
    /// <exception cref="AudioFileException">The disk is full or gone, or a sample is NaN or infinite. The file cannot be
    /// completed any more.</exception>
    public void Write(ReadOnlySpan<float> left, ReadOnlySpan<float> right)
    {
        if (Format.Channels != 2)
        {
            throw new InvalidOperationException("A mono file takes one span.");
        }

        ArgumentOutOfRangeException.ThrowIfNotEqual(right.Length, left.Length);
        Append(left, right);
    }

    /// <summary>Writes frames of a mono file, full scale ±1.</summary>
    /// <inheritdoc cref="Write(ReadOnlySpan{float}, ReadOnlySpan{float})" path="/exception"/>
    public void Write(ReadOnlySpan<float> only)
    {
        if (Format.Channels != 1)
        {
            throw new InvalidOperationException("A stereo file takes two spans.");
        }

        Append(only, only);
    }

    /// <summary>Finishes the header, puts everything on the disk, and lets the file take its place.</summary>
    /// <exception cref="AudioFileException">The disk is full or gone. What stood in the file's place still stands.</exception>
    public void Complete() => Complete(startNotes);

    /// <inheritdoc/>
    public void Complete(FileNotes notes)
    {
        ThrowIfClosed();
        byte[] header = WavHeaderBytes.Of(Format, Frames, longestRiff, notes);
        if (header.Length != headerBytes)
        {
            throw new ArgumentException("The notes have another length than those the file was begun with.", nameof(notes));
        }

        isOpen = false;
        try
        {
            if ((Frames * Format.FrameBytes & 1) != 0)
            {
                if (filled == buffer.Length)
                {
                    Flush();
                }

                buffer[filled++] = 0;
            }

            Flush();
            file.Write(header, 0);
            file.Keep();
        }
        catch (Exception cause) when (WritingFault.IsOfSystem(cause))
        {
            throw WritingFault.Of(path, cause);
        }
    }

    /// <summary>
    /// After a write has failed: ends the file behind the last frame that the disk has taken for sure, and lets it take its
    /// place, as far as it goes.
    /// </summary>
    /// <returns>Frames in the file; 0 when the disk has taken none, and then no file takes the place.</returns>
    /// <exception cref="AudioFileException">The disk takes not even that. What stood in the file's place still stands.</exception>
    public long CompleteCut()
    {
        isOpen = false;

        // An even number of frames needs no byte at the end, which a full disk might not take.
        long frames = Math.Max(0, offset - headerBytes) / Format.FrameBytes / 2 * 2;
        if (frames == 0)
        {
            return 0;
        }

        try
        {
            file.Cut(headerBytes + frames * Format.FrameBytes);
            file.Write(WavHeaderBytes.Of(Format, frames, longestRiff, startNotes), 0);
            file.Keep();
        }
        catch (Exception cause) when (WritingFault.IsOfSystem(cause) || cause is ObjectDisposedException)
        {
            throw WritingFault.Of(path, cause);
        }

        Frames = frames;
        return frames;
    }

    /// <summary>Lets go of the file; without <see cref="Complete()"/> nothing of it remains.</summary>
    public void Dispose()
    {
        isOpen = false;
        file.Dispose();
    }

    private void Append(ReadOnlySpan<float> left, ReadOnlySpan<float> right)
    {
        ThrowIfClosed();
        isOpen = false;
        while (left.Length > 0)
        {
            int frames = Math.Min(left.Length, (buffer.Length - filled) / encoder.FrameBytes);
            if (frames == 0)
            {
                FlushGuarded();
                continue;
            }

            int bytes = frames * encoder.FrameBytes;
            if (!encoder.Encode(left[..frames], right[..frames], buffer.AsSpan(filled, bytes)))
            {
                string where = NotFinite.First(Frames, Format.SampleRate, Format.Channels, left, right);
                throw FileFault.Of(path, $"was not written, the sound has {where}; find what makes it there and mend that");
            }

            filled += bytes;
            Frames += frames;
            left = left[frames..];
            right = right[frames..];
        }

        isOpen = true;
    }

    private void FlushGuarded()
    {
        try
        {
            Flush();
        }
        catch (Exception cause) when (WritingFault.IsOfSystem(cause))
        {
            throw WritingFault.Of(path, cause);
        }
    }

    private void Flush()
    {
        file.Write(buffer.AsSpan(0, filled), offset);
        offset += filled;
        filled = 0;
    }

    private void ThrowIfClosed()
    {
        if (!isOpen)
        {
            throw new InvalidOperationException("The file was completed, let go of, or failed before.");
        }
    }

    // /dev/shm is memory, and takes files.
    private static bool IsDevice(string path) =>
        !OperatingSystem.IsWindows()
        && path.StartsWith("/dev/", StringComparison.Ordinal)
        && !path.StartsWith("/dev/shm/", StringComparison.Ordinal);
}
