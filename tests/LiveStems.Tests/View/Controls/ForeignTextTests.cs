using LiveStems.View.Controls;
using Xunit;

namespace LiveStems.Tests.View.Controls;

public class ForeignTextTests
{
    [Theory]
    [InlineData("Bass 1", "Bass 1")]
    [InlineData("\u05e7\u05d5\u05dc", "\u05e7\u05d5\u05dc<")]
    [InlineData("Take 2 \u05e7\u05d5\u05dc \u05e8\u05d0\u05e9\u05d9 dry", "Take 2 |\u05e7\u05d5\u05dc \u05e8\u05d0\u05e9\u05d9<| dry")]
    [InlineData("\u05e7\u05d5\u05dc Take 2", "Take 2|\u05e7\u05d5\u05dc <")]
    public void StretchesStandWhereTheyAreRead(string text, string seen) =>
        Assert.Equal(seen, string.Join('|', ForeignText.Directions(text).Select(each => each.IsFromRight ? each.Text + "<" : each.Text)));

    [Fact]
    public void SignsThatTheFontLacksAreSetInAnotherOfTheSystem()
    {
        using Fonts fonts = new();
        const string Name = "Bass \u05e7\u05d5\u05dc";
        Assert.True(ForeignText.Concerns(Name, fonts[Lettering.Plain]));
        Assert.False(ForeignText.Concerns("Bass \u2212\u00e9", fonts[Lettering.Plain]));
        TextShape whole = fonts.Shape(Name, 400, Lettering.Plain);
        Assert.NotNull(whole.Blob);
        Assert.Equal(fonts.Width(Name, Lettering.Plain), whole.Width, 0.01f);
        Assert.True(whole.Width > fonts.Width("Bass ", Lettering.Plain));

        // Cut short it fits.
        Assert.InRange(fonts.Shape(Name, 40, Lettering.Plain).Width, 1, 40.5f);
    }

    [Fact]
    public void LettersOfArabicAreJoined()
    {
        // Alone a letter has another shape, and another width, than between others.
        using Fonts fonts = new();
        Assert.NotEqual(3 * fonts.Width("\u0628", Lettering.Plain), fonts.Width("\u0628\u0628\u0628", Lettering.Plain), 0.5f);
    }
}
