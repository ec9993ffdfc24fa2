using LiveStems.View.Controls;
using LiveStems.View.Desk;

namespace LiveStems.View.Screens;

/// <summary>A value of the desk in a value box.</summary>
internal sealed class DeskValue(AlbumDesk desk, ValueField source, string? name = null) : IValueModel
{
    public string Name => name ?? source.Name;

    public string Description => $"{source.Description} {source.RangeText}.";

    public string Text => source.Text;

    public double Travel => source.Travel;

    public double DefaultTravel => source.Spec.ToTravel(source.Spec.Default);

    public bool IsStepped => source.IsSwitch || source.IsChoice;

    public string? SetText(string text)
    {
        string? fault = source.SetText(text);
        desk.Tell(fault);
        return fault;
    }

    public void Drag(double travel) => source.Drag(travel);

    public void EndDrag() => desk.EndGesture();

    public void Step(int steps, bool isFine) => source.Step(steps, isFine);

    public void Next() => source.Next();

    public void Reset() => source.Reset();
}
