using LiveStems.Albums.Model;

namespace LiveStems.Albums.Storage;

/// <summary>Numbers of the album outside their range.</summary>
internal static class RangeFaults
{
    public static void AddRange(this AlbumFaults faults, FieldPath path, AlbumField field, double value)
    {
        if (!field.Contains(value))
        {
            faults.Add(path.Field(field.Spec.Id), $"{NumberText.Of(value)} lies outside {field.FormatRange()}");
        }
    }
}
