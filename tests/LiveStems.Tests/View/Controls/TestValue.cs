using LiveStems.View.Controls;

namespace LiveStems.Tests.View.Controls;

/// <summary>A value from 0 to 1 that takes numbers as text.</summary>
internal sealed class TestValue(bool isStepped = false) : IValueModel
{
    public double Now { get; set; } = 0.5;

    public bool HasEnded { get; private set; }

    public string Name => "Threshold";

    public string Description => "Where it begins.";

    public string Text => $"{Now:0.##}";

    public double Travel => Now;

    public double DefaultTravel => 0.25;

    public bool IsStepped => isStepped;

    public string? SetText(string text)
    {
        if (!double.TryParse(text, out double value))
        {
            return $"'{text}' is no number";
        }

        Now = value;
        return null;
    }

    public void Drag(double travel) => Now = travel;

    public void EndDrag() => HasEnded = true;

    public void Step(int steps, bool isFine) => Now += steps * (isFine ? 0.001 : 0.01);

    public void Next() => Now = Now >= 1 ? 0 : 1;

    public void Reset() => Now = DefaultTravel;
}
