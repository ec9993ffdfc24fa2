using LiveStems.Albums.Model;
using LiveStems.Analysis.Delivery;
using Xunit;

namespace LiveStems.Tests.Analysis.Delivery;

/// <summary>Deliveries that were broken off, damaged or begun twice.</summary>
public sealed class InterruptedDeliveryTests : DeliveryTest
{
    [Theory]
    [InlineData(0.1)]
    [InlineData(0.5)]
    [InlineData(0.9)]
    public void InterruptedDeliveryGoesOnAndEndsWithTheSameBytes(double share)
    {
        DeliveryOrder order = Order(["archive", "disc", "float"]) with { Alternates = [Alternate.Parse("instrumental")], HasTreatedStems = true };
        DeliveryReport undisturbed = Deliver(order, "one");
        Directory.Delete(Path.Combine(Source.Folder, "cache"), recursive: true);
        using CancellationTokenSource interruption = new();
        Stop stop = new(share, interruption);
        Assert.ThrowsAny<OperationCanceledException>(() => Deliver(order, "two", stop, interruption));
        string folder = Path.Combine(Source.Folder, "two", "Delivery 1 (under way)");
        Assert.DoesNotContain(Directory.EnumerateFiles(folder, "*", SearchOption.AllDirectories), path => path.Contains("unchecked", StringComparison.Ordinal));
        Assert.False(File.Exists(Path.Combine(folder, "manifest.json")));

        DeliveryReport resumed = Deliver(order, "two");
        Assert.Equal(1, resumed.Number);
        Assert.Equal(Sums(undisturbed), Sums(resumed));
        Assert.Equal(File.ReadAllBytes(Path.Combine(undisturbed.Folder, "manifest.json")), File.ReadAllBytes(Path.Combine(resumed.Folder, "manifest.json")));
    }

    [Fact]
    public void AFileThatLostItsBytesWhileTheDeliveryWasUnderWayIsMadeAgain()
    {
        DeliveryOrder order = Order(["archive", "disc", "float"]);
        DeliveryReport undisturbed = Deliver(order, "one");
        using CancellationTokenSource interruption = new();
        Assert.ThrowsAny<OperationCanceledException>(() => Deliver(order, "two", new Stop(0.3, interruption), interruption));
        string torn = Directory.EnumerateFiles(Path.Combine(Source.Folder, "two"), "*.wav", SearchOption.AllDirectories).First();
        File.WriteAllBytes(torn, new byte[new FileInfo(torn).Length]);
        Assert.Equal(Sums(undisturbed), Sums(Deliver(order, "two")));
    }

    [Fact]
    public void TwoRunsOfOneOrderAtOnceDoNotWriteTheSameFiles()
    {
        DeliveryOrder order = Order(["archive"]) with { HasTreatedStems = true };
        string? said = null;
        Aside second = new(() => said ??= Assert.Throws<DeliveryException>(() => Deliver(order, "two")).Message);
        Assert.Equal(1, Deliver(order, "two", second).Number);
        Assert.Contains("another run is making this very delivery", said, StringComparison.Ordinal);
    }

    [Fact]
    public void ADeliveryLeftUnderWayIsToldOfWhenAnotherIsMade()
    {
        using CancellationTokenSource interruption = new();
        interruption.Cancel();
        Assert.ThrowsAny<OperationCanceledException>(() => Deliver(Order(["archive"]), interruption: interruption));
        DeliveryReport other = Deliver(Order(["float"]));
        Assert.Equal(2, other.Number);
        Assert.Contains(other.Remarks, remark => remark.Contains("Delivery 1 (under way)", StringComparison.Ordinal));
    }

    [Fact]
    public void ADeliveryFolderNeverStandsWithoutTheRecordThatTakesItUpAgain()
    {
        // A run that was killed right after it had begun: nothing delivered yet, and the next run takes the same number.
        using CancellationTokenSource interruption = new();
        interruption.Cancel();
        Assert.ThrowsAny<OperationCanceledException>(() => Deliver(Order(["archive"]), interruption: interruption));
        string root = Path.Combine(Source.Folder, "deliveries");
        Assert.Equal([".under-way.json"], Directory.EnumerateFiles(Path.Combine(root, "Delivery 1 (under way)")).Select(Path.GetFileName));
        string left = Path.Combine(root, ".unbegun left");
        Directory.CreateDirectory(left);
        Directory.SetLastWriteTimeUtc(left, DateTime.UtcNow.AddHours(-1));
        Assert.Equal(1, Deliver(Order(["archive"])).Number);
        Assert.Equal(2, Deliver(Order(["archive"])).Number);
        Assert.False(Directory.Exists(left));
    }
}
