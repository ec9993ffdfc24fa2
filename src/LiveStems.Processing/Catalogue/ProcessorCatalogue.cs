using LiveStems.Processing.Contract;

namespace LiveStems.Processing.Catalogue;

/// <summary>The processors a program can use, by id.</summary>
public sealed class ProcessorCatalogue
{
    private readonly SortedDictionary<string, (ProcessorDescription Description, Func<Processor> Create)> entries =
        new(StringComparer.Ordinal);

    /// <summary>A catalogue of the given makers; each is called once now to learn the description.</summary>
    /// <exception cref="ArgumentException">Two makers have one id.</exception>
    public ProcessorCatalogue(IEnumerable<Func<Processor>> makers)
    {
        foreach (Func<Processor> maker in makers)
        {
            ProcessorDescription description = maker().Description;
            if (!entries.TryAdd(description.Id, (description, maker)))
            {
                throw new ArgumentException($"two processors have the id '{description.Id}'");
            }
        }
    }

    /// <summary>Descriptions in the order of their ids.</summary>
    public IEnumerable<ProcessorDescription> Descriptions => entries.Values.Select(entry => entry.Description);

    /// <summary>The description of a processor, or null when the catalogue has none of that id.</summary>
    public ProcessorDescription? Find(string id) =>
        entries.TryGetValue(id, out var entry) ? entry.Description : null;

    /// <summary>A new processor with every parameter at its default, or null when the catalogue has none of that id.</summary>
    public Processor? Create(string id) =>
        entries.TryGetValue(id, out var entry) ? entry.Create() : null;
}
