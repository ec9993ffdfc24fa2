using LiveStems.Dsp.Dither;

namespace LiveStems.Analysis.Delivery;

/// <summary>How samples come to whole numbers.</summary>
public enum DitherKind
{
    /// <summary>Not at all: the file holds floats.</summary>
    None,

    /// <summary>Triangular noise of two steps peak to peak.</summary>
    Triangular,

    /// <summary>Triangular noise, its error moved to where the ear is dull.</summary>
    Shaped,
}

/// <summary>A form in which masters are delivered, by purpose and numbers.</summary>
/// <param name="Id">Short name for commands and file names.</param>
/// <param name="Purpose">What it is for, in words.</param>
/// <param name="IsFlac">True for FLAC, false for WAV.</param>
/// <param name="Bits">Bits of a sample: 16, 24, or 32 for floats.</param>
/// <param name="SampleRate">Rate in Hz, or null for the song's own.</param>
/// <param name="Dither">How samples come to whole numbers.</param>
public sealed record DeliveryFormat(string Id, string Purpose, bool IsFlac, int Bits, int? SampleRate, DitherKind Dither)
{
    /// <summary>The forms that can be asked for.</summary>
    public static IReadOnlyList<DeliveryFormat> All { get; } =
    [
        new("archive", "WAV, 24 bits at the song's own rate: the master to keep and to make others from", false, 24, null, DitherKind.Triangular),
        new("disc", "WAV, 16 bits at 44.1 kHz with shaped dither: compact discs and old players", false, 16, 44_100, DitherKind.Shaped),
        new("disc-plain", "WAV, 16 bits at 44.1 kHz with plain triangular dither: where the file will be edited again", false, 16, 44_100, DitherKind.Triangular),
        new("picture", "WAV, 24 bits at 48 kHz: film and video", false, 24, 48_000, DitherKind.Triangular),
        new("high-rate", "WAV, 24 bits at 96 kHz: services and clients that ask for high rates", false, 24, 96_000, DitherKind.Triangular),
        new("float", "WAV, 32-bit float at the song's own rate: further work without another dither", false, 32, null, DitherKind.None),
        new("compact", "FLAC, 24 bits at the song's own rate: lossless, half the size", true, 24, null, DitherKind.Triangular),
    ];

    /// <summary>True for 32-bit floats.</summary>
    public bool IsFloat => Dither == DitherKind.None;

    /// <summary>Ending of its files.</summary>
    public string Extension => IsFlac ? ".flac" : ".wav";

    /// <summary>The form of an id.</summary>
    /// <exception cref="DeliveryException">There is none.</exception>
    public static DeliveryFormat Find(string id) =>
        All.FirstOrDefault(format => format.Id.Equals(id, StringComparison.OrdinalIgnoreCase))
        ?? throw new DeliveryException($"no format '{id}'; there are {string.Join(", ", All.Select(format => format.Id))}");

    /// <summary>Dither for a rate: shaped noise falls back to triangular where its weighting does not fit.</summary>
    internal Action<Memory<float>, Memory<float>>? DitherAt(int sampleRate, ulong seed)
    {
        switch (Dither)
        {
            case DitherKind.None:
                return null;
            case DitherKind.Shaped when ShapedDither.Fits(sampleRate):
                ShapedDither shaped = new(Bits, seed);
                return (left, right) => shaped.Process(left.Span, right.Span);
            default:
                TriangularDither triangular = new(Bits, seed);
                return (left, right) => triangular.Process(left.Span, right.Span);
        }
    }
}
