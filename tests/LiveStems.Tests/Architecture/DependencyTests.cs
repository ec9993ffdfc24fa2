using System.Reflection;
using Xunit;

namespace LiveStems.Tests.Architecture;

public class DependencyTests
{
    // From the bottom to the top: a project may use those before it and no other.
    private static readonly string[] Layers =
    [
        "LiveStems.Dsp", "LiveStems.Processing", "LiveStems.Files", "LiveStems.Albums",
        "LiveStems.Engine", "LiveStems.Analysis", "LiveStems.View", "livestems",
    ];

    [Fact]
    public void EveryProjectDependsOnlyOnProjectsBelowIt()
    {
        for (int layer = 0; layer < Layers.Length; layer++)
        {
            Assembly assembly = Assembly.Load(Layers[layer]);
            IEnumerable<string> ours = assembly.GetReferencedAssemblies()
                .Select(reference => reference.Name!)
                .Where(Layers.Contains);
            Assert.All(ours, name => Assert.True(Array.IndexOf(Layers, name) < layer, $"{Layers[layer]} points up to {name}"));
        }
    }
}
