using CsCheck;
using LiveStems.Albums.Journal;
using Xunit;

namespace LiveStems.Tests.Albums.Journal;

public class TextPatchTests
{
    private static readonly string[] Pieces = ["a", "b", "\n", "ü", "🌊", "🌉", "\""];

    private static readonly Gen<string> Texts = Gen.Int[0, 6].Array[0, 12].Select(places => string.Concat(places.Select(place => Pieces[place])));

    [Fact]
    public void APatchGoesBothWays() => Gen.Select(Texts, Texts).Sample((before, after) =>
    {
        TextPatch patch = TextPatch.Between(before, after);
        Assert.Equal(after, patch.Apply(before));
        Assert.Equal(before, patch.Revert(after));
    });

    [Fact]
    public void NoPatchCutsACharacterInHalf() => Gen.Select(Texts, Texts).Sample((before, after) =>
    {
        TextPatch patch = TextPatch.Between(before, after);
        Assert.All([patch.Removed, patch.Inserted], text => Assert.False(
            text.Length > 0 && (char.IsLowSurrogate(text[0]) || char.IsHighSurrogate(text[^1]))));
    });

    [Fact]
    public void APatchThatDoesNotFitIsRefused()
    {
        TextPatch patch = TextPatch.Between("gain 1", "gain 2");
        Assert.Null(patch.Apply("gain 3"));
        Assert.Null(patch.Revert("ga"));
    }
}
