using System.Text;
using LiveStems.Albums.History;
using LiveStems.Albums.Model;
using LiveStems.Albums.Storage;
using LiveStems.Processing.Catalogue;

namespace LiveStems.Albums.Journal;

/// <summary>From a journal's steps to the states of a history, each made from its neighbour when it is first asked for.</summary>
internal static class JournalStates
{
    public static EditHistory History(JournalReplay replay, Album current, string file, ProcessorCatalogue catalogue)
    {
        Lazy<string> now = new(replay.Text);
        return EditHistory.GoingOn(
            current,
            Chained(replay.Done, now, (step, text) => step.Revert(text)),
            Chained(replay.Undone, now, (step, text) => step.Apply(text)));

        List<(string, Lazy<Album>)> Chained(IEnumerable<JournalStep> steps, Lazy<string> from, Func<JournalStep, string, string?> move)
        {
            List<(string, Lazy<Album>)> states = [];
            Lazy<string> text = from;
            foreach (JournalStep step in steps)
            {
                Lazy<string> neighbour = text;
                Lazy<string> moved = new(() => move(step, neighbour.Value)
                    ?? throw new AlbumException($"{file}: the journal cannot be read beyond here; what was done before cannot be taken back"));
                states.Add((step.Words, new Lazy<Album>(() => AlbumFile.Parse(Encoding.UTF8.GetBytes(moved.Value), file, catalogue))));
                text = moved;
            }

            return states;
        }
    }
}
