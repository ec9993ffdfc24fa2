using System.Collections.Immutable;

namespace LiveStems.Albums.Journal;

/// <summary>
/// What a journal says about an album: where in it the album on disk stands, what came after that and was not saved, and
/// which steps can be taken back or done again.
/// </summary>
internal sealed class JournalReplay
{
    private readonly Stack<JournalStep> done = new();
    private readonly Stack<JournalStep> undone = new();

    private JournalReplay(string text) => Text = text;

    /// <summary>The album's text with everything that the journal holds.</summary>
    public string Text { get; private set; }

    /// <summary>What was done after the album was saved last, in order; usually nothing.</summary>
    public ImmutableArray<JournalRecord> Pending { get; private set; } = [];

    /// <summary>Steps that can be taken back, the latest first.</summary>
    public IEnumerable<JournalStep> Done => done;

    /// <summary>Steps that can be done again, the next first.</summary>
    public IEnumerable<JournalStep> Undone => undone;

    /// <summary>Reads a journal against the album's text on disk; null when the album was changed by something else since.</summary>
    public static JournalReplay? Of(IReadOnlyList<JournalRecord> records, string savedText)
    {
        string digest = JournalFile.DigestOf(savedText);
        int saved = records.Count - 1;
        while (saved >= 0 && records[saved].After != digest)
        {
            saved--;
        }

        if (saved < 0)
        {
            return null;
        }

        JournalReplay replay = new(savedText);
        for (int i = 0; i < records.Count; i++)
        {
            if (!replay.Take(records[i], isPending: i > saved))
            {
                return null;
            }
        }

        bool isWhole = JournalFile.DigestOf(replay.Text) == records[^1].After;
        replay.Pending = [.. records.Skip(saved + 1)];
        return isWhole ? replay : null;
    }

    private bool Take(JournalRecord record, bool isPending)
    {
        string? text = isPending ? TextAfter(record) : Text;
        if (text is null)
        {
            return false;
        }

        Text = text;
        switch (record.Kind)
        {
            case JournalKind.Do when record.Patch is not null:
                done.Push(new JournalStep(record.Words, record.At, [record.Patch]));
                undone.Clear();
                return true;
            case JournalKind.More when record.Patch is not null && done.TryPop(out JournalStep? step):
                done.Push(new JournalStep(record.Words, record.At, step.Patches.Add(record.Patch)));
                undone.Clear();
                return true;
            case JournalKind.Undo when done.TryPop(out JournalStep? step):
                undone.Push(step);
                return true;
            case JournalKind.Redo when undone.TryPop(out JournalStep? step):
                done.Push(step);
                return true;
            case JournalKind.Start:
                done.Clear();
                undone.Clear();
                return true;
            default:
                return false;
        }
    }

    private string? TextAfter(JournalRecord record) => record.Kind switch
    {
        JournalKind.Undo => done.TryPeek(out JournalStep? step) ? step.Revert(Text) : null,
        JournalKind.Redo => undone.TryPeek(out JournalStep? step) ? step.Apply(Text) : null,
        JournalKind.Start => null,
        _ => record.Patch?.Apply(Text),
    };
}
