namespace LiveStems.View.Controls;

/// <summary>A place that one control after another can stand in, filling it.</summary>
internal sealed class Holder : Control
{
    /// <summary>Takes a control in, from wherever it stands; whatever stood here leaves.</summary>
    public void Take(Control control)
    {
        if (control.Parent == this)
        {
            return;
        }

        Clear();
        control.Parent?.Remove(control);
        Add(control);
    }
}
