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
    private bool isInGesture;

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

            AlbumFaults faults = AlbumRules.Check(after, catalogue());
            if (faults.Count > 0)
            {
                return Refuse(faults[0].ToString());
            }

            session.Do(after, words, gesture);
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
    public string? Undo() => Step(session.UndoWords, session.Undo);

    /// <summary>Does again what was taken back last; returns its words, or null when there is none.</summary>
    public string? Redo() => Step(session.RedoWords, session.Redo);

    private string? Step(string? words, Func<bool> step)
    {
        try
        {
            if (!step())
            {
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
