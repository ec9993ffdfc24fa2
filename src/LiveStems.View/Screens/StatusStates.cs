using LiveStems.Engine.Live;
using LiveStems.View.Controls;

namespace LiveStems.View.Screens;

/// <summary>The right end of the status bar: what warns, how it is heard, the device; each already with what parts it from the next.</summary>
/// <param name="Warnings">What must be known to trust what is heard.</param>
/// <param name="Choices">How it is played and heard, where not as usual.</param>
/// <param name="Device">The device, its load, what was lost.</param>
internal readonly record struct StatusStates(string Warnings, string Choices, string Device)
{
    private const string Between = " · ";

    /// <summary>Everything in as many words as fit; states in few words where nothing does.</summary>
    /// <param name="warnings">What warns, the worst first.</param>
    /// <param name="choices">How it is played and heard.</param>
    /// <param name="devices">The device, from the most words to the fewest.</param>
    /// <param name="ruler">Measures words.</param>
    /// <param name="room">Width there is.</param>
    public static StatusStates Fit(IReadOnlyList<StateWords> warnings, IReadOnlyList<StateWords> choices, IReadOnlyList<string> devices, ITextRuler ruler, float room)
    {
        foreach (string device in devices)
        {
            StatusStates whole = Of(warnings.Select(each => each.Words), choices.Select(each => each.Words), device);
            if (whole.Width(ruler) <= room)
            {
                return whole;
            }
        }

        return Of(warnings.Select(each => each.Brief), choices.Select(each => each.Brief), devices[^1]);
    }

    /// <summary>Width that it takes.</summary>
    public float Width(ITextRuler ruler) => ruler.Width(Warnings, Lettering.Small) + ruler.Width(Choices, Lettering.Small) + ruler.Width(Device, Lettering.Small);

    /// <summary>Writes it at the right end of a box, cut where that is too narrow.</summary>
    public void Draw(Painter painter, in Box box)
    {
        float x = Math.Max(box.X, box.Right - Width(painter.Fonts));
        foreach ((string words, Tone tone) in new[] { (Warnings, Tone.Reduction), (Choices, Tone.Text), (Device, Tone.Quiet) })
        {
            painter.Text(words, Box.Between(x, box.Y, box.Right, box.Bottom), tone, Lettering.Small);
            x += painter.Fonts.Width(words, Lettering.Small);
        }
    }

    private static StatusStates Of(IEnumerable<string> warnings, IEnumerable<string> choices, string device)
    {
        string ways = string.Join(Between, choices);
        string warned = string.Join(Between, warnings);
        string behind = ways.Length > 0 && device.Length > 0 ? Between : string.Empty;
        return new(warned + (warned.Length > 0 && (ways + device).Length > 0 ? Between : string.Empty), ways + behind, device);
    }
}
