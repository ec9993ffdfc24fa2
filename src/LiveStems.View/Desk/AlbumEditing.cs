using System.Diagnostics;
using LiveStems.Albums;
using LiveStems.Albums.Editing;
using LiveStems.Albums.Storage;
using LiveStems.Albums.Model;
using LiveStems.Processing.Catalogue;

namespace LiveStems.View.Desk;

/// <summary>
/// How the desk changes its album: every step checked, named, undone and done again. Steps of one movement that follow each
/// other without a pause are one.
/// </summary>
/// <param name="session">The door through which the album changes.</param>
/// <param name="catalogue">The processors there are.</param>
/// <param name="say">Tells the person at the desk what was refused or failed.</param>
/// <param name="changed">The album is another.</param>
internal sealed class AlbumEditing(AlbumSession session, Func<ProcessorCatalogue> catalogue, Action<MessageKind, string> say, Action changed)
{
    private const double GestureSeconds = 0.8;

    private readonly Stopwatch sinceEdit = Stopwatch.StartNew();
    private readonly StepsBeside beside = new(() => session.Album);
    private bool isInGesture;

    /// <summary>What <see cref="Undo"/> would take back, or null.</summary>
    public string? UndoWords => beside.UndoWords ?? session.UndoWords;

    /// <summary>What <see cref="Redo"/> would do again, or null.</summary>
    public string? RedoWords => beside.RedoWords ?? session.RedoWords;

    /// <summary>Changes the album. Null when done (or when nothing is other), otherwise what is wrong.</summary>
    /// <param name="change">Gives the changed album, or throws <see cref="AlbumException"/>.</param>
    /// <param name="gesture">Names a movement of many steps, which is undone as one.</param>
    /// <param name="words">What is done, for undo; null lets the difference speak.</param>
    public string? Do(Func<Album, Album> change, string? gesture, string? words)
    {
        Album before = session.Album;
        try
        {
            Album after = change(before);
            if (ReferenceEquals(after, before))
            {
                return null;
            }

            if (after.Songs.IsEmpty)
            {
                return Refuse("an album that is open keeps at least one song");
            }

            AlbumFaults faults = AlbumRules.Check(after, catalogue());
            if (faults.Count > 0)
            {
                return Refuse(faults[0].ToString());
            }

            session.Do(after, words, gesture);
            beside.Forget();
        }
        catch (AlbumException fault)
        {
            return Refuse(fault.Message);
        }

        sinceEdit.Restart();
        isInGesture = gesture is not null;
        changed();
        return null;
    }

    /// <summary>Something was done beside the album, which can be taken back in its turn.</summary>
    /// <param name="words">What was done.</param>
    /// <param name="undo">Takes it back, or throws <see cref="AlbumException"/>.</param>
    /// <param name="redo">Does it again, or throws <see cref="AlbumException"/>.</param>
    public void AddBeside(string words, Action undo, Action redo)
    {
        EndGesture();
        beside.Add(words, undo, redo);
    }

    /// <summary>Ends a movement: what follows is undone on its own.</summary>
    public void EndGesture()
    {
        session.EndGesture();
        isInGesture = false;
    }

    /// <summary>Ends a movement that has rested; once a picture.</summary>
    public void Update()
    {
        if (isInGesture && sinceEdit.Elapsed.TotalSeconds > GestureSeconds)
        {
            EndGesture();
        }
    }

    /// <summary>Takes the latest step back; returns its words, or null when there is none.</summary>
    public string? Undo() => beside.UndoWords is { } words ? Step(words, beside.Undo, () => false) : Step(session.UndoWords, session.Undo, session.Redo);

    /// <summary>Does again what was taken back last; returns its words, or null when there is none.</summary>
    public string? Redo() => beside.RedoWords is { } words ? Step(words, beside.Redo, () => false) : Step(session.RedoWords, session.Redo, session.Undo);

    private string? Step(string? words, Func<bool> step, Func<bool> back)
    {
        try
        {
            if (!step())
            {
                return null;
            }

            if (session.Album.Songs.IsEmpty)
            {
                _ = back();
                _ = Refuse($"'{words}' stays: an album that is open keeps at least one song; 'livestems undo' can take it back");
                return null;
            }
        }
        catch (AlbumException fault)
        {
            say(MessageKind.Trouble, fault.Message);
            return null;
        }

        isInGesture = false;
        changed();
        return words;
    }

    private string Refuse(string line)
    {
        say(MessageKind.Refusal, line);
        return line;
    }
}
