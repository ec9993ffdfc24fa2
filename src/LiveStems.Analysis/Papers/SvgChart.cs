using System.Globalization;
using System.Text;

namespace LiveStems.Analysis.Papers;

/// <summary>A small line chart as SVG inside a page.</summary>
/// <param name="title">What it shows; read out to those who don't see it.</param>
/// <param name="lowest">Lower end of the vertical axis.</param>
/// <param name="highest">Upper end.</param>
/// <param name="from">Left end of the horizontal axis.</param>
/// <param name="to">Right end.</param>
/// <param name="isLogarithmic">True when equal ratios are equally far apart.</param>
internal sealed class SvgChart(string title, double lowest, double highest, double from, double to, bool isLogarithmic)
{
    private const double Width = 480;
    private const double Height = 250;
    private const double Left = 46;
    private const double Right = 470;
    private const double Top = 14;
    private const double Bottom = 208;

    private readonly StringBuilder inside = new();

    /// <summary>Adds a horizontal line with a label at the axis.</summary>
    public void MarkUp(double value, string label)
    {
        string y = At(Up(value));
        inside.Append($"<line class=\"g\" x1=\"{At(Left)}\" x2=\"{At(Right)}\" y1=\"{y}\" y2=\"{y}\"/><text x=\"{At(Left - 6)}\" y=\"{At(Up(value) + 5)}\" text-anchor=\"end\">{Html.Escaped(label)}</text>");
    }

    /// <summary>Adds a vertical line with a label below.</summary>
    public void MarkAcross(double value, string label)
    {
        string x = At(Across(value));
        inside.Append($"<line class=\"g\" x1=\"{x}\" x2=\"{x}\" y1=\"{At(Top)}\" y2=\"{At(Bottom)}\"/><text x=\"{x}\" y=\"{At(Bottom + 18)}\" text-anchor=\"middle\">{Html.Escaped(label)}</text>");
    }

    /// <summary>Adds a dashed level.</summary>
    public void Level(double value) =>
        inside.Append($"<line class=\"t\" x1=\"{At(Left)}\" x2=\"{At(Right)}\" y1=\"{At(Up(value))}\" y2=\"{At(Up(value))}\"/>");

    /// <summary>Adds a line; values that are none part it.</summary>
    /// <param name="points">The points, ascending.</param>
    /// <param name="style">Class of the line in the page's style.</param>
    public void Line(IEnumerable<(double Across, double Up)> points, string style)
    {
        bool isDown = false;
        StringBuilder path = new();
        foreach ((double across, double up) in points)
        {
            bool isThere = double.IsFinite(up) && across >= from && across <= to;
            if (isThere)
            {
                path.Append(isDown ? 'L' : 'M').Append(At(Across(across))).Append(' ').Append(At(Up(Math.Clamp(up, lowest, highest))));
            }

            isDown = isThere;
        }

        inside.Append($"<path class=\"{style}\" d=\"{path}\"/>");
    }

    /// <summary>Adds words at the foot, below the horizontal axis.</summary>
    public void Foot(string words) =>
        inside.Append($"<text x=\"{At((Left + Right) / 2)}\" y=\"{At(Bottom + 37)}\" text-anchor=\"middle\">{Html.Escaped(words)}</text>");

    /// <summary>The picture.</summary>
    public override string ToString() =>
        $"<svg viewBox=\"0 0 {At(Width)} {At(Height)}\" role=\"img\" aria-label=\"{Html.Escaped(title)}\"><title>{Html.Escaped(title)}</title>{inside}</svg>";

    private static string At(double value) => value.ToString("0.#", CultureInfo.InvariantCulture);

    private double Up(double value) => Bottom - (value - lowest) / (highest - lowest) * (Bottom - Top);

    private double Across(double value) =>
        Left + (isLogarithmic ? Math.Log(value / from) / Math.Log(to / from) : (value - from) / (to - from)) * (Right - Left);
}
