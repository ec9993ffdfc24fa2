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

    /// <summary>Steps that can be taken back.</summary>
    public int Depth { get; private init; }

    /// <summary>A history that begins with an album.</summary>
    public static EditHistory StartingWith(Album album) => new(album, [], [], null);

    /// <summary>A history that goes on from an earlier run; its states are made when they are asked for.</summary>
    /// <param name="album">The album as it is.</param>
    /// <param name="done">Words of the steps that led here and the state before each, the latest first.</param>
    /// <param name="undone">Words of the steps that were taken back and the state after each, the next first.</param>
    public static EditHistory GoingOn(
        Album album, IReadOnlyList<(string Words, Lazy<Album> Before)> done, IReadOnlyList<(string Words, Lazy<Album> After)> undone) => new(
            album,
            done.Reverse().Aggregate(ImmutableStack<Step>.Empty, (stack, step) => stack.Push(new Step(step.Before, step.Words))),
            undone.Reverse().Aggregate(ImmutableStack<Step>.Empty, (stack, step) => stack.Push(new Step(step.After, step.Words))),
            null) { Depth = done.Count };

    /// <summary>A step to another state; what had been undone is forgotten.</summary>
    /// <param name="album">The new state.</param>
    /// <param name="words">What was done, for the person who may take it back.</param>
    /// <param name="gesture">
    /// Names a movement of many states, such as a fader being dragged: steps of one gesture that follow each other are taken
    /// back together. Null for a step of its own.
    /// </param>
    public EditHistory Do(Album album, string words, string? gesture = null) =>
        GoesOnWith(gesture)
            ? new EditHistory(album, done.Pop().Push(done.Peek() with { Words = words }), [], gesture) { Depth = Depth }
            : new EditHistory(album, done.Push(new Step(new Lazy<Album>(Current), words)), [], gesture) { Depth = Depth + 1 };

    /// <summary>True when a step of a gesture would go on with the latest one.</summary>
    public bool GoesOnWith(string? gesture) => gesture is not null && gesture == this.gesture && !done.IsEmpty;

    /// <summary>Ends a gesture: the next step is one of its own, whatever it is called.</summary>
    public EditHistory EndGesture() => new(Current, done, undone, null) { Depth = Depth };

    /// <summary>The history with the latest step taken back; the same when there is none.</summary>
    public EditHistory Undo() => done.IsEmpty
        ? this
        : new EditHistory(done.Peek().Other.Value, done.Pop(), undone.Push(done.Peek() with { Other = new Lazy<Album>(Current) }), null) { Depth = Depth - 1 };

    /// <summary>The history with the step that was taken back last done again; the same when there is none.</summary>
    public EditHistory Redo() => undone.IsEmpty
        ? this
        : new EditHistory(undone.Peek().Other.Value, done.Push(undone.Peek() with { Other = new Lazy<Album>(Current) }), undone.Pop(), null) { Depth = Depth + 1 };

    // Among what is done, the state before the step; among what is undone, the state after it.
    private sealed record Step(Lazy<Album> Other, string Words);
}
