using System.Collections.Immutable;
using LiveStems.Albums.Editing;
using LiveStems.Albums.Model;
using LiveStems.Processing.Catalogue;

namespace LiveStems.Albums.History;

/// <summary>The differences between two albums, in words.</summary>
/// <remarks>
/// Songs, stems, parallels and processors are told by their names; a song or stem of another name by its sound. A
/// parameter that is not written counts as its default.
/// </remarks>
public sealed class AlbumDifference
{
    private readonly ImmutableArray<AlbumChange>.Builder changes = ImmutableArray.CreateBuilder<AlbumChange>();

    private AlbumDifference()
    {
    }

    /// <summary>Every difference, in the order of the album; none when the albums say the same.</summary>
    public static ImmutableArray<AlbumChange> Between(Album before, Album after, ProcessorCatalogue catalogue)
    {
        AlbumTree tree = new(catalogue);
        AlbumDifference difference = new();
        difference.Compare(ChangePlace.Album, tree.Root(before), tree.Root(after));
        return difference.changes.ToImmutable();
    }

    private void Compare(ChangePlace place, AddressNode before, AddressNode after)
    {
        if (ReferenceEquals(before.Source, after.Source))
        {
            return;
        }

        CompareFields(place, before, after);
        if (before.Kept != after.Kept)
        {
            Add(AlbumChangeKind.Kept, place.IsAlbum ? place.Add("album") : place, string.Empty, string.Empty);
        }

        if (before.Notes is { } earlier && after.Notes is { } later)
        {
            foreach (AlbumChange change in NoteDifference.Between("note", earlier.Value, later.Value))
            {
                Add(change.Kind, place.Add(change.Place), change.Before, change.After);
            }
        }

        foreach (AlbumChange change in NoteDifference.Between("answer", [.. before.Answers.Select(answer => answer.Said)], [.. after.Answers.Select(answer => answer.Said)]))
        {
            Add(change.Kind, place.Add(change.Place), change.Before, change.After);
        }

        for (int i = 0; i < before.Groups.Count; i++)
        {
            CompareGroups(place, before.Groups[i], after.Groups[i]);
        }
    }

    private void CompareFields(ChangePlace place, AddressNode before, AddressNode after)
    {
        IReadOnlyList<AddressField> earlier = before.FieldsUnlike(after);
        foreach (AddressField now in after.FieldsUnlike(before))
        {
            AddressField? was = earlier.FirstOrDefault(field => field.Name == now.Name);
            if (was is null)
            {
                AddInitial(place, now);
            }
            else if (Differs(was, now))
            {
                bool isBelowDisplay = was.Text == now.Text;
                Set(place, now, isBelowDisplay ? was.Exact! : was.Text, isBelowDisplay ? now.Exact! : now.Text);
            }
        }
    }

    // A value that is another's differs only where what it comes to does.
    private static bool Differs(AddressField was, AddressField now)
    {
        if (was.Exact is null || now.Exact is null)
        {
            return !(was.Exact is null && now.Exact is null) && was.Text != now.Text;
        }

        return was.Exact != now.Exact;
    }

    private void CompareGroups(ChangePlace place, AddressGroup before, AddressGroup after)
    {
        GroupMatch match = GroupMatch.Of(before, after);
        foreach (int index in match.Removed)
        {
            Add(AlbumChangeKind.Removed, place.Add(before.Words(index)), string.Empty, string.Empty);
        }

        foreach ((int? was, int now) in match.Present)
        {
            if (was is { } old)
            {
                Compare(place.Add(before.Words(old)), before.Open(old), after.Open(now));
            }
            else
            {
                AddNew(place.Add(after.Words(now)), after.Open(now), isNews: true);
            }
        }

        if (match.IsReordered)
        {
            Add(AlbumChangeKind.Reordered, place.Add($"order of {after.Kind}s"), match.NamesBefore, match.NamesAfter);
        }
    }

    private void AddNew(ChangePlace place, AddressNode node, bool isNews)
    {
        if (isNews)
        {
            Add(AlbumChangeKind.Added, place, string.Empty, string.Empty);
        }

        foreach (AddressField field in node.Fields)
        {
            AddInitial(place, field);
        }

        // That a new song has stems and a bus goes without saying; that it has corrections does not.
        foreach (AddressGroup group in node.Groups)
        {
            for (int i = 0; i < group.Names.Count; i++)
            {
                AddNew(place.Add(group.Words(i)), group.Open(i), isNews: group.Kind is not ("stem" or "song bus"));
            }
        }
    }

    private void AddInitial(ChangePlace place, AddressField field)
    {
        if (field.Initial is { } initial && field.Exact is not null && field.Exact != initial.Exact)
        {
            Set(place, field, initial.Text, field.Text);
        }
    }

    private void Set(ChangePlace place, AddressField field, string before, string after) =>
        Add(AlbumChangeKind.Set, place.Add(field.Words, field.SaidWords), before, after);

    private void Add(AlbumChangeKind kind, ChangePlace place, string before, string after) =>
        changes.Add(new AlbumChange(kind, place.Written, before, after) { Steps = place.Said });
}
