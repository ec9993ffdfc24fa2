namespace LiveStems.Albums.Editing;

/// <summary>A value of the album with its address.</summary>
/// <param name="Address">Address that leads to it, with whole names.</param>
/// <param name="Text">The value as people write it.</param>
/// <param name="CanBeSet">False for what only other changes change, such as a digest.</param>
public sealed record AddressedValue(string Address, string Text, bool CanBeSet);
