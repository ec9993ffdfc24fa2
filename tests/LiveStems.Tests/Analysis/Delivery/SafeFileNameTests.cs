using LiveStems.Analysis.Delivery;
using Xunit;

namespace LiveStems.Tests.Analysis.Delivery;

public class SafeFileNameTests
{
    [Theory]
    [InlineData("Rope and Rain", "Rope and Rain")]
    [InlineData("What? Where/When: \"now\"", "What- Where-When- -now-")]
    [InlineData("Größe 鳥", "Größe 鳥")]
    [InlineData("ends with dots...", "ends with dots")]
    [InlineData(" \t ", "untitled")]
    [InlineData(".hidden", "hidden")]
    [InlineData("con", "con-")]
    [InlineData("Lpt1.take", "Lpt1.take-")]
    [InlineData("Console", "Console")]
    public void EverySystemTakesTheName(string title, string expected) => Assert.Equal(expected, SafeFileName.From(title));
}
