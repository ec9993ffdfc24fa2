namespace LiveStems.Engine.Live;

/// <summary>Something that holds at present, in words, and in few where there is little room.</summary>
/// <param name="Words">All of it.</param>
/// <param name="Brief">The same in few words.</param>
public readonly record struct StateWords(string Words, string Brief);
