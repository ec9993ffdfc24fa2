using System.Text;
using CsCheck;
using LiveStems.Albums.Journal;
using Xunit;

namespace LiveStems.Tests.Albums.Journal;

public class TextPatchTests
{
    private static readonly string[] Pieces = ["a", "b", "\n", "ü", "ý", "ā", "🌊", "🌉", "\""];

    private static readonly Gen<string> Texts = Gen.Int[0, 8].Array[0, 12].Select(places => string.Concat(places.Select(place => Pieces[place])));

    [Fact]
    public void APatchGoesBothWays() => Gen.Select(Texts, Texts).Sample((before, after) =>
    {
        TextPatch patch = Between(before, after);
        Assert.Equal(after, patch.Apply(before));
        Assert.Equal(before, patch.Revert(after));
    });

    [Fact]
    public void NoPatchCutsACharacterInHalf() => Gen.Select(Texts, Texts).Sample((before, after) =>
    {
        TextPatch patch = Between(before, after);
        Assert.All([patch.Removed, patch.Inserted], text => Assert.False(
            text.Length > 0 && (char.IsLowSurrogate(text[0]) || char.IsHighSurrogate(text[^1]))));
    });

    [Fact]
    public void APatchIsNoLongerThanWhatDiffers() => Gen.Select(Texts, Texts).Sample((before, after) =>
    {
        TextPatch patch = Between(before, after);
        Rune[] removed = [.. patch.Removed.EnumerateRunes()];
        Rune[] inserted = [.. patch.Inserted.EnumerateRunes()];
        Assert.False(removed.Length > 0 && inserted.Length > 0 && (removed[0] == inserted[0] || removed[^1] == inserted[^1]));
        Assert.StartsWith(before[..patch.At], after, StringComparison.Ordinal);
    });

    [Fact]
    public void APatchThatDoesNotFitIsRefused()
    {
        TextPatch patch = Between("gain 1", "gain 2");
        Assert.Null(patch.Apply("gain 3"));
        Assert.Null(patch.Revert("ga"));
    }

    private static TextPatch Between(string before, string after) => TextPatch.Between(Encoding.UTF8.GetBytes(before), Encoding.UTF8.GetBytes(after));
}
