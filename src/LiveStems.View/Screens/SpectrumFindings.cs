using LiveStems.Analysis.Masking;
using LiveStems.Analysis.Trouble;
using LiveStems.View.Controls;
using LiveStems.View.Desk;

namespace LiveStems.View.Screens;

/// <summary>
/// What was found about the chosen stem, on the spectrum: trouble bands, brighter while they are heard, and how often the
/// stem is covered in each of the ear's bands.
/// </summary>
internal sealed class SpectrumFindings(AlbumDesk desk)
{
    private const float FootUnits = 34;
    private const float CoverUnits = 44;
    private const double BesideSeconds = 0.1;

    private (long Revision, int Song, int Stem, bool ShowsSong, ulong Heard, bool IsOld) state;

    /// <summary>True when it is to be seen which other stem covers the chosen one.</summary>
    public bool ShowsCovering => !desk.Spectrum.ShowsSong && desk.Finding.Covering is { } covering && covering.Covered == desk.SelectedStem?.Name;

    /// <summary>Takes in what is new; true when it must be drawn again.</summary>
    public bool Update()
    {
        (long, int, int, bool, ulong, bool) now = (desk.Finding.Revision, desk.SongIndex, desk.Selection.Stem, desk.Spectrum.ShowsSong, HeardNow(), desk.Finding.IsCoveringOld);
        bool isOther = now != state;
        state = now;
        return isOther;
    }

    public void Draw(Painter painter, SpectrumControl spectrum)
    {
        if (desk.Spectrum.ShowsSong || desk.SelectedStem is not { } stem)
        {
            return;
        }

        if (ShowsCovering)
        {
            DrawCovered(painter, spectrum, desk.Finding.Covering!, desk.Finding.IsCoveringOld ? ", before the last change" : string.Empty);
        }

        ulong heard = state.Heard;
        int index = 0;
        foreach (TroubleFinding finding in desk.Finding.Of(stem.Index)?.Findings ?? [])
        {
            DrawBand(painter, spectrum, finding, (heard & Bit(index++)) != 0);
        }

        // Above the bands, so that nothing covers it.
        if (desk.Finding.Shown is { } shown && desk.Finding.Of(stem.Index)?.Findings.Contains(shown) == true)
        {
            Label(painter, spectrum, shown.LowHz, shown.HighHz, $"{FindingWords.Kind(shown.Kind)} · {FrequencyText.Of(shown.CentreHz)} · {Moment(shown)}", Tone.Trouble);
        }
    }

    private static ulong Bit(int index) => index < 64 ? 1UL << index : 0;

    private static void Label(Painter painter, SpectrumControl spectrum, double lowHz, double highHz, string words, Tone tone)
    {
        float width = painter.Fonts.Width(words, Lettering.Small) + 12;
        float middle = (spectrum.X(lowHz) + spectrum.X(highHz)) / 2;
        Box box = new(Math.Clamp(middle - width / 2, spectrum.Bounds.X + 2, Math.Max(spectrum.Bounds.X + 2, spectrum.Bounds.Right - width - 2)), spectrum.Bounds.Bottom - CoverUnits - 20, width, 16);
        painter.Fill(box, Tone.Panel, 0.92f, 3);
        painter.Text(words, box, tone, Lettering.Small, Side.Centre);
    }

    private void DrawBand(Painter painter, SpectrumControl spectrum, TroubleFinding finding, bool isHeard)
    {
        float left = spectrum.X(finding.LowHz);
        float right = Math.Max(left + 3, spectrum.X(finding.HighHz));
        bool isShown = finding == desk.Finding.Shown;
        painter.Fill(Box.Between(left, spectrum.Bounds.Y, right, spectrum.Bounds.Bottom), Tone.Trouble, isShown ? 0.16f : isHeard ? 0.10f : 0.045f);
        painter.Fill(Box.Between(left, spectrum.Bounds.Bottom - FootUnits, right, spectrum.Bounds.Bottom - FootUnits + 4), Tone.Trouble, isShown || isHeard ? 1 : 0.55f, 2);
    }

    // How often the chosen other stem covers this one, band by band; behind it, fainter, all others together.
    private static void DrawCovered(Painter painter, SpectrumControl spectrum, Covering covering, string when)
    {
        IReadOnlyList<double> bands = covering.Map.BandHz;
        IReadOnlyList<double> byBand = covering.ByBand;
        IReadOnlyList<double> byAll = covering.ByBandOfAll;
        float foot = spectrum.Bounds.Bottom - 1;
        int worst = 0;
        for (int band = 0; band < bands.Count; band++)
        {
            double below = band > 0 ? Math.Sqrt(bands[band - 1] * bands[band]) : bands[band];
            double above = band + 1 < bands.Count ? Math.Sqrt(bands[band] * bands[band + 1]) : bands[band];
            float left = spectrum.X(below) + 0.5f;
            float right = spectrum.X(above) - 0.5f;
            Rise(painter, left, right, foot, byAll[band], 0.22f);
            Rise(painter, left, right, foot, byBand[band], 0.8f);
            worst = byBand[band] > byBand[worst] ? band : worst;
        }

        Label(painter, spectrum, bands[worst], bands[worst], $"covered by {covering.By} {covering.Share * 100:0} % of its time, most at {FrequencyText.Of(bands[worst])}{when}", when.Length > 0 ? Tone.Quiet : Tone.Trouble);
    }

    private static void Rise(Painter painter, float left, float right, float foot, double share, float alpha)
    {
        float height = CoverUnits * (float)share;
        if (height >= 1)
        {
            painter.Fill(Box.Between(left, foot - height, right, foot), Tone.Trouble, alpha);
        }
    }

    private static string Moment(TroubleFinding finding) => finding.Ranges.IsEmpty ? "all the time"
        : finding.Ranges.Length == 1 ? $"at {TimeText.Of(finding.Ranges[0].StartSeconds)}"
        : $"at {TimeText.Of(finding.Ranges[0].StartSeconds)}, {finding.Ranges.Length} times";

    // Which findings are heard at the present place, one bit each.
    private ulong HeardNow()
    {
        if (!desk.Transport.IsPlaying || desk.SelectedStem is not { } stem || desk.Finding.Of(stem.Index) is not { } report)
        {
            return 0;
        }

        double at = desk.Transport.PositionSeconds;
        ulong heard = 0;
        for (int i = 0; i < report.Findings.Length; i++)
        {
            foreach (TimeRange range in report.Findings[i].Ranges)
            {
                if (at >= range.StartSeconds - BesideSeconds && at <= range.EndSeconds + BesideSeconds)
                {
                    heard |= Bit(i);
                    break;
                }
            }
        }

        return heard;
    }
}
