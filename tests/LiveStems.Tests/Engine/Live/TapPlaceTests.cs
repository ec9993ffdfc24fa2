using LiveStems.Engine.Live;
using Xunit;

namespace LiveStems.Tests.Engine.Live;

public sealed class TapPlaceTests
{
    [Fact]
    public void PlacesAreSaidInWords()
    {
        Assert.Equal("bus", TapPlace.Bus.ToString());
        Assert.Equal("stem 2", TapPlace.OfStem(2).ToString());
        Assert.Equal("stem 2, parallel 0, compressor", new TapPlace(2, 0, "compressor").ToString());
    }
}
