using System.Buffers.Binary;
using System.Globalization;
using System.Text;

namespace LiveStems.Files.Writing;

/// <summary>
/// The broadcast extension of a WAV file, version 2: who made it, when, how, and how loud it is (EBU Tech 3285 version 2,
/// section 2.3 and its supplement 6).
/// </summary>
/// <param name="Description">What the sound is, up to 256 characters.</param>
/// <param name="Originator">Who made the file, up to 32 characters.</param>
/// <param name="OriginatorReference">A name for the file that its originator gave, up to 32 characters.</param>
/// <param name="Origination">Date and time the file was made.</param>
/// <param name="CodingHistory">Lines of the coding history (EBU R 98), each ended by a carriage return and a line feed.</param>
public sealed record BroadcastExtension(string Description, string Originator, string OriginatorReference, DateTime Origination, string CodingHistory)
{
    private const int FixedBytes = 602;

    /// <summary>The value that stands for a loudness that was not measured.</summary>
    private const short NotMeasured = 0x7FFF;

    /// <summary>Integrated loudness in LUFS, or null.</summary>
    public double? IntegratedLufs { get; init; }

    /// <summary>Loudness range in LU, or null.</summary>
    public double? LoudnessRangeLu { get; init; }

    /// <summary>Highest true peak in dBTP, or null.</summary>
    public double? TruePeakDbtp { get; init; }

    /// <summary>Highest momentary loudness in LUFS, or null.</summary>
    public double? MaximumMomentaryLufs { get; init; }

    /// <summary>Highest short-term loudness in LUFS, or null.</summary>
    public double? MaximumShortTermLufs { get; init; }

    /// <summary>The line of the coding history for linear samples, per EBU R 98.</summary>
    /// <param name="format">The form of the file.</param>
    /// <param name="text">What was done, without commas.</param>
    public static string LinearHistory(WavFormat format, string text) =>
        string.Create(CultureInfo.InvariantCulture, $"A=PCM,F={format.SampleRate},W={format.BitsPerSample},M={(format.Channels == 1 ? "mono" : "stereo")},T={text}\r\n");

    /// <summary>The body of the 'bext' chunk; its length depends on the coding history only.</summary>
    internal byte[] ToBytes()
    {
        byte[] history = Ascii(CodingHistory);
        byte[] bytes = new byte[FixedBytes + history.Length];
        Put(bytes.AsSpan(0, 256), Description);
        Put(bytes.AsSpan(256, 32), Originator);
        Put(bytes.AsSpan(288, 32), OriginatorReference);
        Put(bytes.AsSpan(320, 10), Origination.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture));
        Put(bytes.AsSpan(330, 8), Origination.ToString("HH:mm:ss", CultureInfo.InvariantCulture));

        // 338 to 345 hold the time reference, 0: the sound starts where its time line starts.
        BinaryPrimitives.WriteUInt16LittleEndian(bytes.AsSpan(346), 2);
        Put(bytes.AsSpan(412), IntegratedLufs);
        Put(bytes.AsSpan(414), LoudnessRangeLu);
        Put(bytes.AsSpan(416), TruePeakDbtp);
        Put(bytes.AsSpan(418), MaximumMomentaryLufs);
        Put(bytes.AsSpan(420), MaximumShortTermLufs);
        history.CopyTo(bytes, FixedBytes);
        return bytes;
    }

    // Hundredths, rounded half away from 0, as the supplement says.
    private static void Put(Span<byte> to, double? value)
    {
        bool isThere = value is { } number && double.IsFinite(number) && Math.Abs(number) < 99.995;
        BinaryPrimitives.WriteInt16LittleEndian(to, isThere ? (short)Math.Round(value!.Value * 100, MidpointRounding.AwayFromZero) : NotMeasured);
    }

    private static void Put(Span<byte> to, string text)
    {
        byte[] bytes = Ascii(text);
        bytes.AsSpan(0, Math.Min(bytes.Length, to.Length)).CopyTo(to);
    }

    /// <summary>The text in ASCII, letters with accents without them, all else '?'.</summary>
    private static byte[] Ascii(string text) => Encoding.ASCII.GetBytes(
        string.Concat(text.Normalize(NormalizationForm.FormD).Where(letter => CharUnicodeInfo.GetUnicodeCategory(letter) != UnicodeCategory.NonSpacingMark)));
}
