using LiveStems.Albums.Model;

namespace LiveStems.View.Desk;

/// <summary>
/// What was done beside the album's own history, such as deleting a version. Each is taken back and done again in its turn
/// among the album's steps, which is when the album is what it was when that was done.
/// </summary>
/// <param name="now">The album as it is.</param>
internal sealed class StepsBeside(Func<Album> now)
{
    private readonly Stack<Step> done = new();
    private readonly Stack<Step> undone = new();

    /// <summary>What would be taken back before any step of the album, or null.</summary>
    public string? UndoWords => Next(done)?.Words;

    /// <summary>What would be done again before any step of the album, or null.</summary>
    public string? RedoWords => Next(undone)?.Words;

    /// <summary>Something was done.</summary>
    public void Add(string words, Action undo, Action redo)
    {
        undone.Clear();
        done.Push(new Step(words, now(), undo, redo));
    }

    /// <summary>The album went another way: what was taken back cannot be done again.</summary>
    public void Forget() => undone.Clear();

    /// <summary>Takes back what is next; what fails is forgotten, or it would stand in the way of all that was done before.</summary>
    public bool Undo()
    {
        Step step = done.Pop();
        step.Undo();
        undone.Push(step);
        return true;
    }

    /// <summary>Does again what is next.</summary>
    public bool Redo()
    {
        Step step = undone.Pop();
        step.Redo();
        done.Push(step);
        return true;
    }

    private Step? Next(Stack<Step> steps) => steps.TryPeek(out Step? step) && ReferenceEquals(step.At, now()) ? step : null;

    private sealed record Step(string Words, Album At, Action Undo, Action Redo);
}
