using System.Reflection;
using LiveStems.Engine.Hosting.Isolation;
using LiveStems.Processing.Catalogue;
using LiveStems.Processing.Contract;

namespace LiveStems.Engine.Hosting;

/// <summary>Loads an outside assembly and asks each of its processors once what it is.</summary>
public static class OutsideLoader
{
    private static readonly TimeSpan Patience = TimeSpan.FromSeconds(5);

    /// <summary>True once code of others has been loaded into this process: it may have started threads that keep the process alive.</summary>
    public static bool HasLoaded { get; private set; }

    /// <summary>The processors of an assembly whose facts have no fault; the user has said yes to this very content.</summary>
    /// <exception cref="HostingException">It cannot be loaded, or one of its processors cannot be made; the message is one line.</exception>
    public static IReadOnlyList<ProcessorMaker> Load(AssemblyFacts facts)
    {
        OutsideLoadContext context = new(facts);
        HasLoaded = true;
        try
        {
            return Bounded.Run(() => Makers(context.LoadTrusted(), facts), Patience, $"{Path.GetFileName(facts.File)} does not come to an end when its processors are made");
        }
        catch (Exception fault)
        {
            context.Unload();
            throw fault as HostingException ?? new HostingException($"{Path.GetFileName(facts.File)} cannot be loaded: {Reason(fault)}", fault);
        }
    }

    /// <summary>Innermost reason of a failure in one line.</summary>
    internal static string Reason(Exception fault)
    {
        Exception inner = fault;
        while (inner is TypeInitializationException or TargetInvocationException && inner.InnerException is { } next)
        {
            inner = next;
        }

        return $"{inner.GetType().Name}, {inner.Message.ReplaceLineEndings(" ")}";
    }

    private static IReadOnlyList<ProcessorMaker> Makers(Assembly assembly, AssemblyFacts facts) =>
        [.. facts.Types.Select(name => Maker(assembly.GetType(name, throwOnError: true)!, facts))];

    private static ProcessorMaker Maker(Type type, AssemblyFacts facts)
    {
        ConstructorInfo constructor = type.GetConstructor(Type.EmptyTypes)
            ?? throw new HostingException($"{type.FullName} has no public constructor without parameters; add one");
        Processor Make() => (Processor)constructor.Invoke(null);
        ProcessorDescription description;
        try
        {
            description = Make().Description;
        }
        catch (Exception fault)
        {
            throw new HostingException($"{type.FullName} cannot be made: {Reason(fault)}", fault);
        }

        return DescriptionRules.FaultOf(description) is { } wrong
            ? throw new HostingException($"{type.FullName}: {wrong}")
            : new ProcessorMaker(Own(description), Make) { Build = facts.Build };
    }

    // A copy of nothing but our own types: whoever keeps a description keeps hold of no code that is to be let go.
    private static ProcessorDescription Own(ProcessorDescription description) => DescriptionText.Read(DescriptionText.Write([description]))[0];
}
