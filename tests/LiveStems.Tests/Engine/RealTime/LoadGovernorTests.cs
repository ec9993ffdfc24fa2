using LiveStems.Engine.Live;
using LiveStems.Engine.RealTime;
using Xunit;

namespace LiveStems.Tests.Engine.RealTime;

public class LoadGovernorTests
{
    private const double Block = 256 / 48_000.0;

    private readonly LoadGovernor governor = new();

    [Fact]
    public void LightLoadDropsNothing()
    {
        Run(0.5, 60);
        Assert.Equal(LoadLevel.Everything, governor.Level);
        Assert.Equal(0, governor.Entries(LoadLevel.WithoutMeters));
    }

    [Fact]
    public void MetersGoBeforeViewsAndViewsBeforeTheMusic()
    {
        List<LoadLevel> seen = [];
        for (double time = 0; time < 1; time += Block)
        {
            Run(1.3, Block);
            if (seen.Count == 0 || seen[^1] != governor.Level)
            {
                seen.Add(governor.Level);
            }
        }

        Assert.Equal([LoadLevel.Everything, LoadLevel.WithoutMeters, LoadLevel.WithoutViews, LoadLevel.Faded], seen);
    }

    [Fact]
    public void HighLoadThatStillFitsNeverTouchesTheMusic()
    {
        Run(0.95, 20);
        Assert.Equal(LoadLevel.WithoutViews, governor.Level);
        Assert.Equal(0, governor.Entries(LoadLevel.Faded));
    }

    [Fact]
    public void SingleStallOfTheMachineDropsNothing()
    {
        Run(0.1, 1);
        Run(20, Block);
        Run(0.1, 1);
        Assert.Equal(0, governor.Entries(LoadLevel.WithoutMeters));
    }

    [Fact]
    public void EverythingComesBackAfterTheLoad()
    {
        Run(0.95, 1);
        Run(0.2, 3);
        Assert.Equal(LoadLevel.Everything, governor.Level);
    }

    [Fact]
    public void MusicIsTriedAgainAfterEverLongerPauses()
    {
        List<double> pauses = [];
        double faded = 0;
        for (double time = 0; time < 60; time += Block)
        {
            bool wasFaded = governor.Level == LoadLevel.Faded;
            Run(wasFaded ? 0 : 1.3, Block);
            faded = wasFaded ? faded + Block : faded;
            if (wasFaded && governor.Level != LoadLevel.Faded)
            {
                pauses.Add(Math.Round(faded));
                faded = 0;
            }
        }

        Assert.Equal([1, 2, 4, 8], pauses.Take(4));
        Assert.All(pauses.Skip(3), pause => Assert.Equal(8, pause));
    }

    private void Run(double share, double seconds)
    {
        for (double time = 0; time < seconds - (Block / 2); time += Block)
        {
            governor.Add(share, Block);
        }
    }
}
