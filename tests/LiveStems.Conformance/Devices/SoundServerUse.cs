using Xunit;

namespace LiveStems.Conformance.Devices;

/// <summary>Tests with the sound server: one after the other and with nothing beside them, since they play in real time.</summary>
[CollectionDefinition(Name, DisableParallelization = true)]
public sealed class SoundServerUse : ICollectionFixture<SoundServer>
{
    public const string Name = "sound server";
}
