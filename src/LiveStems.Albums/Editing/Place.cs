using System.Collections.Immutable;
using LiveStems.Albums.Model;

namespace LiveStems.Albums.Editing;

/// <summary>A record somewhere in an album, with the way to put another in its place.</summary>
/// <param name="Value">What is there.</param>
/// <param name="Put">The album with another value there.</param>
internal sealed record Place<T>(T Value, Func<T, Album> Put)
{
    /// <summary>A part of the record.</summary>
    public Place<TPart> Part<TPart>(Func<T, TPart> get, Func<T, TPart, T> with) =>
        new(get(Value), part => Put(with(Value, part)));
}

/// <summary>Lists of records.</summary>
internal static class ListPlaces
{
    /// <summary>One item of a list.</summary>
    public static Place<T> Item<T>(this Place<ImmutableArray<T>> list, int index) =>
        new(list.Value[index], item => list.Put(list.Value.SetItem(index, item)));

    /// <summary>The album without an item.</summary>
    public static Album Without<T>(this Place<ImmutableArray<T>> list, int index) => list.Put(list.Value.RemoveAt(index));

    /// <summary>The album with an item moved so that it stands at another index.</summary>
    public static Album Moved<T>(this Place<ImmutableArray<T>> list, int from, int to) =>
        list.Put(list.Value.RemoveAt(from).Insert(to, list.Value[from]));
}
