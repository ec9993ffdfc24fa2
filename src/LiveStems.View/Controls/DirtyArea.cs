namespace LiveStems.View.Controls;

/// <summary>What is to be drawn again: a few boxes that do not meet.</summary>
internal sealed class DirtyArea
{
    private const int MostBoxes = 12;

    private readonly List<Box> boxes = [];

    public IReadOnlyList<Box> Boxes => boxes;

    public void Add(Box box)
    {
        if (box.IsEmpty)
        {
            return;
        }

        for (int i = boxes.Count - 1; i >= 0; i--)
        {
            if (boxes[i].Meets(box))
            {
                box = box.Around(boxes[i]);
                boxes.RemoveAt(i);
                // The larger box may meet those that were passed.
                i = boxes.Count;
            }
        }

        boxes.Add(box);
        if (boxes.Count > MostBoxes)
        {
            Box all = boxes.Aggregate((one, other) => one.Around(other));
            boxes.Clear();
            boxes.Add(all);
        }
    }

    public void Clear() => boxes.Clear();
}
