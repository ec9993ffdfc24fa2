using LiveStems.Engine.Hosting;
using LiveStems.Engine.Hosting.Isolation;
using LiveStems.Processing.Catalogue;

namespace LiveStems.Bench.Scenarios.Outside;

/// <summary>The processors of tests/Outside as they were built.</summary>
internal static class OutsideBuilds
{
    public static ProcessorMaker Maker(string assembly, string id) =>
        OutsideLoader.Load(AssemblyExaminer.Examine(Built(assembly))).Single(maker => maker.Description.Id == id);

    public static IReadOnlyList<ProcessorMaker> MakersApart(string assembly)
    {
        AssemblyFacts facts = AssemblyExaminer.Examine(Built(assembly));
        return new IsolatedAssembly(facts).Makers(IsolatedAssembly.Describe(facts));
    }

    public static string Built(string name)
    {
        string? folder = AppContext.BaseDirectory;
        while (folder is not null && !File.Exists(Path.Combine(folder, "LiveStems.sln")))
        {
            folder = Path.GetDirectoryName(folder);
        }

        return Path.Combine(folder!, "tests", "Outside", name, "bin", "Release", "net10.0", name + ".dll");
    }
}
