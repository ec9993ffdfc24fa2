using System.Collections.Immutable;
using LiveStems.Albums.Model;

namespace LiveStems.Albums.History;

/// <summary>
/// The states an album went through, each with the words for what led to it. Immutable: every step gives a new history,
/// so one can be handed to another thread or kept as it is. States share all that did not change.
/// </summary>
public sealed class EditHistory
{
    private readonly ImmutableStack<Step> done;
    private readonly ImmutableStack<Step> undone;
    private readonly string? gesture;

    private EditHistory(Album current, ImmutableStack<Step> done, ImmutableStack<Step> undone, string? gesture)
    {
        Current = current;
        this.done = done;
        this.undone = undone;
        this.gesture = gesture;
    }

    /// <summary>The album as it is.</summary>
    public Album Current { get; }

    /// <summary>What <see cref="Undo"/> would take back, or null when there is nothing.</summary>
    public string? UndoWords => done.IsEmpty ? null : done.Peek().Words;

    /// <summary>What <see cref="Redo"/> would do again, or null when there is nothing.</summary>
    public string? RedoWords => undone.IsEmpty ? null : undone.Peek().Words;

    /// <summary>What led here, the latest first.</summary>
    public IEnumerable<string> Words => done.Select(step => step.Words);

    /// <summary>A history that begins with an album.</summary>
    public static EditHistory StartingWith(Album album) => new(album, [], [], null);

    /// <summary>A step to another state; what had been undone is forgotten.</summary>
    /// <param name="album">The new state.</param>
    /// <param name="words">What was done, for the person who may take it back.</param>
    /// <param name="gesture">
    /// Names a movement of many states, such as a fader being dragged: steps of one gesture that follow each other are taken
    /// back together. Null for a step of its own.
    /// </param>
    public EditHistory Do(Album album, string words, string? gesture = null)
    {
        bool goesOn = gesture is not null && gesture == this.gesture && !done.IsEmpty;
        return goesOn
            ? new EditHistory(album, done.Pop().Push(done.Peek() with { Words = words }), [], gesture)
            : new EditHistory(album, done.Push(new Step(Current, words)), [], gesture);
    }

    /// <summary>Ends a gesture: the next step is one of its own, whatever it is called.</summary>
    public EditHistory EndGesture() => new(Current, done, undone, null);

    /// <summary>The history with the latest step taken back; the same when there is none.</summary>
    public EditHistory Undo() => done.IsEmpty
        ? this
        : new EditHistory(done.Peek().Other, done.Pop(), undone.Push(done.Peek() with { Other = Current }), null);

    /// <summary>The history with the step that was taken back last done again; the same when there is none.</summary>
    public EditHistory Redo() => undone.IsEmpty
        ? this
        : new EditHistory(undone.Peek().Other, done.Push(undone.Peek() with { Other = Current }), undone.Pop(), null);

    // Among what is done, the state before the step; among what is undone, the state after it.
    private sealed record Step(Album Other, string Words);
}
