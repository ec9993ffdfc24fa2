using LiveStems.Conformance;
using Xunit;

[assembly: AssemblyFixture(typeof(OwnCache))]

namespace LiveStems.Conformance;

/// <summary>
/// A cache for all of these tests instead of the user's. One for all, since they run side by side and start programs that
/// inherit it.
/// </summary>
public sealed class OwnCache : IDisposable
{
    private const string Variable = "LIVESTEMS_CACHE";

    private readonly string folder = Directory.CreateTempSubdirectory("livestems-cache-").FullName;
    private readonly string? before = Environment.GetEnvironmentVariable(Variable);

    public OwnCache() => Environment.SetEnvironmentVariable(Variable, folder);

    public void Dispose()
    {
        Environment.SetEnvironmentVariable(Variable, before);
        Directory.Delete(folder, recursive: true);
    }
}
